// Package design is the typed form of a design document.
//
// What enters: the bytes of one JSON document. What leaves: a Document whose
// every element knows its line, column and JSON Pointer, or the list of
// problems that keep it from being read. Quantities stay exact as written
// (package quantity); nothing is computed or judged here.
//
// It refuses what is not UTF-8, what is over its Limits, JSON that RFC 8259
// does not allow, a key given twice, whatever schema "design" does not know,
// and quantities that package quantity cannot read. Two elements with one id,
// and a basin, pump or fixture named but not there, are reported beside the
// Document; where pipes lead is the business of package network.
package design

import "backpitch/engine/quantity"

// Position is where an element stands in its file. Line and Col count from 1;
// Pointer is the RFC 6901 JSON Pointer.
type Position struct {
	Line    int
	Col     int
	Pointer string
}

// Quantities as written, each exact; the zero value means "not stated".
type (
	Length       struct{ quantity.Value } // "1-1/2 in", "3 ft 6 in", "457 mm"; elevations are lengths above the datum and may be negative
	Size         struct{ quantity.Value } // nominal size: "3 in", "DN 80"
	Slope        struct{ quantity.Value } // fall per run: "1/4 in/ft", "2 %", "1:48"; negative falls against the flow
	Flow         struct{ quantity.Value } // "21 gpm", "1.3 L/s"
	Volume       struct{ quantity.Value } // "1.28 gal", "6 L"
	Weight       struct{ quantity.Value } // "95 lb", "43 kg"
	Load         struct{ quantity.Value } // "3 dfu", or a discharge unit "2.0 L/s": see its Kind
	Angle        struct{ quantity.Value } // "90 deg"
	Duration     struct{ quantity.Value } // "20 s"
	Pressure     struct{ quantity.Value } // "25 psi"
	Density      struct{ quantity.Value } // "120 lb/ft3"
	DischargeDay struct{ quantity.Value } // mean daily inflow: "180 gal/d"
)

// Document is one design.
type Document struct {
	Schema      string       `json:"$schema,omitempty"`
	Profile     string       `json:"profile,omitempty"` // jurisdiction profile the designer worked to
	Project     Project      `json:"project"`
	Building    Building     `json:"building"`
	Datum       string       `json:"datum,omitempty"` // what elevation 0 is, in words
	Fixtures    []Fixture    `json:"fixtures,omitempty"`
	Groups      []Group      `json:"bathroom_groups,omitempty"`
	Junctions   []Junction   `json:"junctions,omitempty"`
	Pipes       []Pipe       `json:"pipes,omitempty"`
	Terminals   []Terminal   `json:"terminals,omitempty"`
	Basins      []Basin      `json:"basins,omitempty"`
	Pumps       []Pump       `json:"pumps,omitempty"`
	Electrical  []Electrical `json:"electrical,omitempty"`
	Connections []Connection `json:"connections,omitempty"`

	source *table             // text it was read from; nil where it was built in Go
	index  map[string]Element // by id; nil where it was built in Go
}

// Project says which submission this is.
type Project struct {
	Position  Position `json:"-"`
	Name      string   `json:"name"`
	Reference string   `json:"reference,omitempty"`
	Revision  string   `json:"revision,omitempty"`
}

// Building is what the codes ask about the whole building.
type Building struct {
	Position      Position `json:"-"`
	Use           string   `json:"use,omitempty"` // one_family two_family multifamily public commercial institutional industrial
	DwellingUnits *int     `json:"dwelling_units,omitempty"`
	Storeys       *int     `json:"storeys,omitempty"`
	WaterClosets  *int     `json:"water_closets_elsewhere,omitempty"`
	Existing      *bool    `json:"existing,omitempty"`            // true: work in an existing building
	ManholeRim    Length   `json:"upstream_manhole_rim,omitzero"` // elevation of the cover of the next upstream manhole
	SewerInvert   Length   `json:"sewer_invert,omitzero"`         // elevation of the building sewer or drain invert that gravity drainage could reach
	SewerDistance Length   `json:"sewer_distance,omitzero"`       // developed length from the fixtures to that invert
	Inflow        Flow     `json:"mean_inflow,omitzero"`          // mean inflow to the basin over a day of use
	Occupancy     string   `json:"fixture_use,omitempty"`         // intermittent frequent congested special: the K of the discharge unit method
	FlushValves   *bool    `json:"predominantly_flush_valves,omitempty"`
	DesignTemp    string   `json:"frost_closure,omitempty"` // "yes" or "no": winter design temperature closes small vents with frost
}

// Fixture is one plumbing fixture with its trap.
type Fixture struct {
	Position    Position `json:"-"`
	ID          string   `json:"id"`
	Kind        string   `json:"kind"`          // water_closet lavatory shower bathtub bidet urinal kitchen_sink bar_sink laundry_tray clothes_washer dishwasher floor_drain service_sink mop_sink drinking_fountain sink other
	Use         string   `json:"use,omitempty"` // private public heavy
	Flush       Volume   `json:"flush_volume,omitzero"`
	FlushType   string   `json:"flush_type,omitempty"` // tank flushometer_tank flush_valve waterless
	Flow        Flow     `json:"flow,omitzero"`        // shower: total flow of its heads; other: continuous flow it sends
	Emergency   *bool    `json:"emergency,omitempty"`  // floor drain for emergencies only
	Load        Load     `json:"load,omitzero"`        // stated load, for kind other
	Trap        *Trap    `json:"trap,omitempty"`
	FloodRim    Length   `json:"flood_rim,omitzero"`       // elevation of the flood-level rim
	Floor       Length   `json:"floor,omitzero"`           // elevation of the floor it stands on
	Storey      *int     `json:"storey,omitempty"`         // 0 is the lowest
	Indirect    *bool    `json:"indirect_waste,omitempty"` // drains through an air gap into another fixture
	Interceptor string   `json:"interceptor,omitempty"`    // solids grease sand none
	Label       string   `json:"label,omitempty"`
}

// Trap is the liquid seal of a fixture.
type Trap struct {
	Type       string `json:"type"` // p_trap integral s_trap bell drum crown_vented running none
	Size       Size   `json:"size,omitzero"`
	Seal       Length `json:"seal,omitzero"`             // depth of the seal
	Weir       Length `json:"weir,omitzero"`             // elevation of the trap weir
	OutletDrop Length `json:"outlet_drop,omitzero"`      // vertical distance from fixture outlet to trap weir
	OutletRun  Length `json:"outlet_run,omitzero"`       // horizontal distance from fixture outlet to trap inlet
	Protection string `json:"seal_protection,omitempty"` // primer barrier regular_use none
}

// Group is a bathroom group whose load a profile may count as one.
type Group struct {
	Position Position `json:"-"`
	ID       string   `json:"id"`
	Fixtures []string `json:"fixtures"`
}

// Junction is a point where pipes meet.
type Junction struct {
	Position   Position `json:"-"`
	ID         string   `json:"id"`
	Fitting    string   `json:"fitting,omitempty"` // wye combination_wye sanitary_tee double_wye double_combination_wye double_sanitary_tee tee vent_tee closet_flange end_cap coupling heel_inlet_bend
	Size       Size     `json:"size,omitzero"`
	Invert     Length   `json:"invert,omitzero"`
	Run        string   `json:"run,omitempty"`          // id of the inflowing pipe that goes straight through
	Entry      string   `json:"entry,omitempty"`        // top side bottom: where on the drain a pumped line enters
	BackToBack *bool    `json:"back_to_back,omitempty"` // double fitting with inlets facing each other
}

// Pipe joins two elements in the direction of flow. A vent pipe runs from the
// drainage it protects towards the open air.
type Pipe struct {
	Position   Position `json:"-"`
	ID         string   `json:"id"`
	Service    string   `json:"service"` // drain vent pumped
	From       string   `json:"from"`
	To         string   `json:"to"`
	Size       Size     `json:"size,omitzero"`
	Material   string   `json:"material,omitempty"` // pvc_dwv abs_dwv pvc_sch40 abs_sch40 cast_iron copper_dwv copper_l cpvc pe ductile_iron steel_galvanized stainless_304 stainless_316l vitrified_clay pvc_u_en pe_en pp_en
	Rating     Pressure `json:"pressure_rating,omitzero"`
	Length     Length   `json:"length,omitzero"` // developed length along the centre line
	Slope      Slope    `json:"slope,omitzero"`
	InvertFrom Length   `json:"invert_from,omitzero"`
	InvertTo   Length   `json:"invert_to,omitzero"`
	Lie        string   `json:"lie,omitempty"`     // horizontal vertical sloped_45
	Role       string   `json:"role,omitempty"`    // fixture_drain branch stack building_drain building_sewer
	Venting    string   `json:"venting,omitempty"` // wet circuit combination: how a drain that also vents is meant
	Bends      []Bend   `json:"bends,omitempty"`
	Buried     *bool    `json:"buried,omitempty"`
	Cover      Length   `json:"cover,omitzero"`
	Joints     []Joint  `json:"joints,omitempty"`
	Devices    []Device `json:"devices,omitempty"`
	Load       Load     `json:"existing_load,omitzero"` // load from work outside this design that already enters at the upstream end
	Closets    *int     `json:"existing_water_closets,omitempty"`
	Intervals  *int     `json:"branch_intervals,omitempty"` // stacks: number of branch intervals
	Roughness  *Range   `json:"manning_n,omitempty"`
	HazenC     *Range   `json:"hazen_williams_c,omitempty"`
}

// Range is a dimensionless input stated as low, expected and high.
type Range struct {
	Low      *float64 `json:"low,omitempty"`
	Expected *float64 `json:"expected,omitempty"`
	High     *float64 `json:"high,omitempty"`
}

// Bend is a change of direction inside a pipe.
type Bend struct {
	Position Position `json:"-"`
	Kind     string   `json:"kind"`             // quarter_bend short_sweep long_sweep sixth_bend eighth_bend sixteenth_bend
	Change   string   `json:"change,omitempty"` // horizontal_to_vertical vertical_to_horizontal horizontal_to_horizontal
	At       Length   `json:"at,omitzero"`      // distance from the upstream end
}

// Joint is how pipe or fittings are joined.
type Joint struct {
	Position Position `json:"-"`
	Kind     string   `json:"kind"`            // solvent_cement transition_cement shielded_coupling unshielded_coupling hubless hub_and_gasket threaded fusion soldered flanged mechanical
	Joins    string   `json:"joins,omitempty"` // the other material where it differs
}

// Device is something in line in a pipe, listed in order of flow.
type Device struct {
	Position  Position `json:"-"`
	ID        string   `json:"id"`
	Kind      string   `json:"kind"`            // check_valve full_open_valve shutoff_valve union cleanout backwater_valve reducer relief_hole flexible_coupling trap
	Style     string   `json:"style,omitempty"` // valves: gate ball plug globe butterfly; check valves: swing ball lift
	Size      Size     `json:"size,omitzero"`
	Place     string   `json:"place,omitempty"` // above_cover access_pit inside_basin buried in_wall exposed in_floor
	Access    *bool    `json:"accessible,omitempty"`
	At        Length   `json:"at,omitzero"`        // distance from the upstream end of the pipe
	Clearance Length   `json:"clearance,omitzero"` // free space in front
	HoleSize  Length   `json:"hole,omitzero"`      // relief hole diameter
	K         *float64 `json:"k,omitempty"`        // loss coefficient when known
}

// Terminal is where a vent ends.
type Terminal struct {
	Position      Position `json:"-"`
	ID            string   `json:"id"`
	Kind          string   `json:"kind"` // roof_vent wall_vent air_admittance_valve
	Size          Size     `json:"size,omitzero"`
	Elevation     Length   `json:"elevation,omitzero"`
	AboveRoof     Length   `json:"height_above_roof,omitzero"`
	RoofUsed      *bool    `json:"roof_used,omitempty"`
	FromOpening   Length   `json:"distance_to_opening,omitzero"`
	AboveOpening  Length   `json:"height_above_opening,omitzero"`
	FromLotLine   Length   `json:"distance_to_lot_line,omitzero"`
	ValveType     string   `json:"valve_type,omitempty"` // individual branch stack
	Rating        Load     `json:"rating,omitzero"`
	AboveDrain    Length   `json:"height_above_drain,omitzero"`
	Insulation    string   `json:"insulation,omitempty"` // none present
	AboveInsul    Length   `json:"height_above_insulation,omitzero"`
	Access        *bool    `json:"accessible,omitempty"`
	VentilatedAir *bool    `json:"air_can_enter,omitempty"`
	InPlenum      *bool    `json:"in_plenum,omitempty"`
	Engineered    *bool    `json:"engineered_design,omitempty"`
}

// Basin is a sump that receives sewage or waste. Levels and the inlet height
// are measured upwards from the basin floor.
type Basin struct {
	Position    Position `json:"-"`
	ID          string   `json:"id"`
	Shape       string   `json:"shape,omitempty"` // round rectangular
	Diameter    Length   `json:"diameter,omitzero"`
	PlanLength  Length   `json:"plan_length,omitzero"`
	PlanWidth   Length   `json:"plan_width,omitzero"`
	Depth       Length   `json:"depth,omitzero"` // floor to underside of cover
	Floor       Length   `json:"floor,omitzero"` // elevation of the basin floor
	Inlet       *Inlet   `json:"inlet,omitempty"`
	Cover       *Cover   `json:"cover,omitempty"`
	Levels      *Levels  `json:"levels,omitempty"`
	Access      *bool    `json:"accessible,omitempty"`
	Material    string   `json:"material,omitempty"`
	Bedding     string   `json:"bedding,omitempty"`
	Weight      Weight   `json:"weight,omitzero"` // empty, with cover and fixed equipment
	Ballast     Weight   `json:"ballast,omitzero"`
	Slab        *Slab    `json:"anti_flotation_slab,omitempty"`
	GroundWater Length   `json:"ground_water,omitzero"` // elevation of the highest ground water
	Grade       Length   `json:"grade,omitzero"`        // elevation of the finished floor or ground at the basin
	Outside     Length   `json:"outside_diameter,omitzero"`
	Engineered  *bool    `json:"engineered_vent_design,omitempty"`
	Alarm       *Alarm   `json:"alarm,omitempty"`
}

// Inlet is the opening through which drains enter a basin.
type Inlet struct {
	Size   Size   `json:"size,omitzero"`
	Invert Length `json:"invert,omitzero"` // elevation
	Height Length `json:"height,omitzero"` // invert above the basin floor
}

// Cover closes a basin.
type Cover struct {
	GasTight  *bool `json:"gas_tight,omitempty"`
	Fastened  *bool `json:"fastened,omitempty"`
	Removable *bool `json:"removable,omitempty"`
	Rated     *bool `json:"load_rated,omitempty"`
}

// Levels are the switching levels above the basin floor.
type Levels struct {
	Stop        Length `json:"stop,omitzero"`
	Start       Length `json:"start,omitzero"`
	SecondStart Length `json:"second_start,omitzero"`
	Alarm       Length `json:"alarm,omitzero"`
}

// Slab is concrete that holds a basin down.
type Slab struct {
	Diameter  Length  `json:"diameter,omitzero"`
	Thickness Length  `json:"thickness,omitzero"`
	Density   Density `json:"density,omitzero"`
	SoilMoist Density `json:"soil_moist,omitzero"`
	SoilSat   Density `json:"soil_saturated,omitzero"`
}

// Alarm is the high-water alarm of a basin.
type Alarm struct {
	Kind       string `json:"kind,omitempty"` // audible visual audible_and_visual none
	OwnCircuit *bool  `json:"own_circuit,omitempty"`
}

// Pump lifts the contents of a basin.
type Pump struct {
	Position   Position     `json:"-"`
	ID         string       `json:"id"`
	Basin      string       `json:"basin"`
	Kind       string       `json:"kind,omitempty"`  // solids_handling grinder macerating effluent
	Solids     Length       `json:"solids,omitzero"` // largest sphere it passes
	Outlet     Size         `json:"outlet,omitzero"`
	Rate       Flow         `json:"stated_rate,omitzero"` // rate at the design head where no curve is given
	Curve      []CurvePoint `json:"curve,omitempty"`
	CurveModel string       `json:"curve_model,omitempty"` // segments three_point
	Tolerance  *float64     `json:"curve_tolerance_percent,omitempty"`
	Friction   string       `json:"friction_method,omitempty"` // hazen_williams darcy_weisbach: of its line; the profile's where not stated
	Duty       string       `json:"duty,omitempty"`            // duty standby
	Cord       Length       `json:"cord_length,omitzero"`
	MaxStarts  *float64     `json:"max_starts_per_hour,omitempty"`
	MinRun     Duration     `json:"min_run_time,omitzero"`
}

// CurvePoint is one stated point of a pump curve.
type CurvePoint struct {
	Flow Flow   `json:"flow"`
	Head Length `json:"head"`
}

// Electrical is what a licensed electrician must know of a pump's supply.
type Electrical struct {
	Position   Position `json:"-"`
	ID         string   `json:"id"`
	Pump       string   `json:"pump"`
	Receptacle Length   `json:"receptacle_distance,omitzero"` // along the cord's route from the pump
	Protection string   `json:"protection,omitempty"`         // ground_fault none
	Dedicated  *bool    `json:"dedicated_circuit,omitempty"`
}

// Connection is where drainage leaves the design: an existing drain.
type Connection struct {
	Position      Position `json:"-"`
	ID            string   `json:"id"`
	Kind          string   `json:"kind"`          // building_drain building_sewer stack branch
	Lie           string   `json:"lie,omitempty"` // horizontal vertical
	Size          Size     `json:"size,omitzero"`
	Slope         Slope    `json:"slope,omitzero"`
	Invert        Length   `json:"invert,omitzero"`
	Load          Load     `json:"existing_load,omitzero"`
	Closets       *int     `json:"existing_water_closets,omitempty"`
	Intervals     *int     `json:"branch_intervals,omitempty"`
	Fitting       string   `json:"fitting,omitempty"` // as Junction.Fitting
	Entry         string   `json:"entry,omitempty"`   // top side bottom
	FromStackBase Length   `json:"distance_from_stack_base,omitzero"`
	FromFixture   Length   `json:"distance_from_fixture_drain,omitzero"`
	Backwater     *bool    `json:"has_backwater_valve,omitempty"`
}
