package hydraulics

import "slices"

// Basis says whether a tabled value was read in a published text.
type Basis string

// The two bases.
const (
	Checked    Basis = "checked"
	FromMemory Basis = "from memory"
)

// PipeSize is one nominal size of a material.
type PipeSize struct {
	Material string
	DN       int     // ISO 6708; 32, 40, 50, 65, 80, 100 ... for 1-1/4, 1-1/2, 2, 2-1/2, 3, 4 in
	Bore     float64 // m, outside diameter less two least walls unless the source says otherwise
	Basis    Basis
	Source   string
}

// Bore is the actual inside diameter, m, of a material and nominal size.
// European plastics are found by outside diameter (DN/OD 110) and by the
// nominal size of EN 12056 it serves (DN 100).
//
// The bore is the nominal one: outside diameter less twice the least wall.
// The average bore is about 1 % smaller, which raises head loss by 4 %.
func Bore(material string, dn int) (metres float64, basis string, ok bool) {
	size, ok := FindPipeSize(material, dn)
	return size.Bore, string(size.Basis), ok
}

// FindPipeSize is Bore with its source.
func FindPipeSize(material string, dn int) (PipeSize, bool) {
	s, ok := boreSeries[material]
	if !ok {
		return PipeSize{}, false
	}
	for _, row := range s.rows {
		if row.dn == dn || row.serves == dn && dn != 0 {
			basis := s.basis
			if row.basis != "" {
				basis = row.basis
			}
			return PipeSize{material, dn, row.bore * s.unit, basis, s.source}, true
		}
	}
	return PipeSize{}, false
}

// Materials lists the materials with tabled bores, in order.
func Materials() []string {
	names := make([]string, 0, len(boreSeries))
	for name := range boreSeries {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// Sizes lists the nominal sizes tabled for a material, in order.
func Sizes(material string) []int {
	var sizes []int
	for _, row := range boreSeries[material].rows {
		sizes = append(sizes, row.dn)
		if row.serves != 0 {
			sizes = append(sizes, row.serves)
		}
	}
	slices.Sort(sizes)
	return slices.Compact(sizes)
}
