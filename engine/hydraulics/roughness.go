package hydraulics

// RoughnessRange is how uncertain the resistance of a pipe is: new and clean
// at one end, slimed and jointed at the other.
type RoughnessRange struct {
	Value  Range
	Basis  Basis
	Source string
}

// ManningRange is Manning's n, s/m^(1/3), by kind of pipe: "plastic" or "any"
// (what codes assume whatever the material).
func ManningRange(kind string) (RoughnessRange, bool) {
	switch kind {
	case "plastic":
		return RoughnessRange{Range{0.009, 0.010, 0.013}, FromMemory,
			"0.010 smooth plastic: Austin drainage criteria 5.3.4 (checked); 0.009 from memory; 0.013 as for any pipe"}, true
	case "any":
		return RoughnessRange{Range{0.011, 0.013, 0.015}, FromMemory,
			"0.013: Purcell, Oklahoma, sewer slopes (checked); 0.011 to 0.015 ASCE/WPCF (from memory)"}, true
	}
	return RoughnessRange{}, false
}

// HazenWilliamsRange is C by kind of pipe: "plastic" or "other".
func HazenWilliamsRange(kind string) (RoughnessRange, bool) {
	const wisconsin = "Wis. Admin. Code NR 110.14 for force mains"
	switch kind {
	case "plastic":
		return RoughnessRange{Range{120, 140, 150}, Checked,
			wisconsin + " 120 to 140; 150 for Schedule 40 plastic: 77 Ill. Adm. Code 906 App. A Exhibit I"}, true
	case "other":
		return RoughnessRange{Range{100, 110, 125}, Checked, wisconsin + " 100 to 125; expected value in between"}, true
	}
	return RoughnessRange{}, false
}

// WallRoughnessRange is the equivalent sand roughness, m, by kind of pipe:
// "plastic" under pressure, or "drain" with its joints and deposits.
func WallRoughnessRange(kind string) (RoughnessRange, bool) {
	switch kind {
	case "plastic":
		return RoughnessRange{Range{5e-6 * foot, 1e-5, 6e-5}, FromMemory, "5e-6 ft smooth plastic; the others common practice"}, true
	case "drain":
		return RoughnessRange{Range{0.25e-3, 1.0e-3, 1.5e-3}, FromMemory, "EN 12056-2 Annex B, 1.0 mm in service; the others common practice"}, true
	}
	return RoughnessRange{}, false
}
