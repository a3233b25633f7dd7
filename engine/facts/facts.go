// Package facts derives what a design implies, the only place where design,
// graph, formulas and a profile's tables meet.
//
// What enters: a decoded design, its network and the tables of one profile.
// What leaves: Facts, the document that rules read as `input`. Every number is
// a whole number in a small fixed unit, so that a comparison at the limit is
// exact; a fact that cannot be known is absent, never zero, null or text.
// Nothing is judged here and no code section is known.
package facts

// Facts is the input of every rule. Groups are ordered by element id.
// The tags `unit` and `doc` make schema/facts.schema.json.
type Facts struct {
	Project       Project              `json:"project" doc:"the submission as a whole"`
	Building      Building             `json:"building" doc:"the building as a whole"`
	Fixtures      []Fixture            `json:"fixtures" doc:"every fixture"`
	TrapArms      []TrapArm            `json:"trap_arms" doc:"the drain from each trap weir to the vent fitting that protects it; one for each trap that a vent reaches"`
	Drains        []Drain              `json:"drains" doc:"every pipe of service drain"`
	WetVents      []WetVent            `json:"wet_vents" doc:"every drain that also vents a fixture further downstream"`
	Vents         []Vent               `json:"vents" doc:"every pipe of service vent"`
	Terminals     []Terminal           `json:"terminals" doc:"every vent terminal in the open air"`
	AirValves     []AirAdmittanceValve `json:"air_admittance_valves" doc:"every air admittance valve"`
	Fittings      []Fitting            `json:"fittings" doc:"every junction and bend of drains with the changes of direction made through it"`
	Joints        []Joint              `json:"joints" doc:"every stated joint of drains and pumped pipes"`
	Cleanouts     []Cleanout           `json:"cleanouts" doc:"every cleanout"`
	CleanoutNeeds []CleanoutNeed       `json:"cleanout_needs" doc:"every place where a cleanout may be asked for: upper ends, turns, stack bases, the exit from the building"`
	CleanoutRuns  []CleanoutRun        `json:"cleanout_runs" doc:"every stretch of horizontal drain between cleanouts"`
	Basins        []Basin              `json:"basins" doc:"every sewage or waste basin"`
	Pumps         []Pump               `json:"pumps" doc:"every pump"`
	Discharges    []Discharge          `json:"discharges" doc:"every pumped line from its pump to the drain that receives it"`
	Valves        []Valve              `json:"valves" doc:"every valve of a pumped line, in order of flow"`
	Connections   []Connection         `json:"connections" doc:"every place where drainage leaves the design"`
	Backwater     []BackwaterValve     `json:"backwater_valves" doc:"every backwater valve"`
}

// Project is the subject of rules that only an inspector can settle.
type Project struct {
	ID        string `json:"id" doc:"always \"project\""`
	Name      string `json:"name" doc:"name of the project"`
	HasBasin  bool   `json:"has_basin" doc:"the design has a basin"`
	HasPumped bool   `json:"has_pumped" doc:"the design has pumped piping"`
	HasBuried bool   `json:"has_buried" doc:"the design has buried piping"`
}

// Building is the subject of rules about the whole building.
type Building struct {
	ID                string `json:"id" doc:"always \"building\""`
	Use               string `json:"use,omitempty" doc:"one_family, two_family, multifamily, public, commercial, institutional or industrial"`
	FixtureUse        string `json:"fixture_use,omitempty" doc:"intermittent, frequent, congested or special: how often fixtures run together, as stated"`
	DwellingUnits     *int64 `json:"dwelling_units,omitempty" unit:"count" doc:"number of dwelling units"`
	Storeys           *int64 `json:"storeys,omitempty" unit:"count" doc:"number of storeys"`
	Existing          *bool  `json:"existing,omitempty" doc:"the work is in an existing building"`
	WaterClosets      int64  `json:"water_closets" unit:"count" doc:"water closets in the design and elsewhere in the building"`
	Fixtures          int64  `json:"fixtures" unit:"count" doc:"fixtures in the design"`
	OpenAirVents      int64  `json:"open_air_vents" unit:"count" doc:"vents of the design that end in the open air and serve drains other than a basin alone"`
	Basins            int64  `json:"basins" unit:"count" doc:"basins in the design"`
	BelowManhole      *int64 `json:"fixtures_below_manhole,omitempty" unit:"count" doc:"fixtures that drain by gravity and whose floor is below the cover of the next upstream manhole; absent when an elevation is not stated"`
	CannotFall        *int64 `json:"fixtures_that_cannot_fall,omitempty" unit:"count" doc:"fixtures that cannot reach the sewer by gravity and do not drain to a basin; absent when an elevation is not stated"`
	BackwaterValves   int64  `json:"backwater_valves" unit:"count" doc:"backwater valves in the design or stated on a connection"`
	ManholeRimStated  bool   `json:"manhole_rim_stated" doc:"the elevation of the next upstream manhole cover is stated"`
	FrostClosure      *bool  `json:"frost_closure,omitempty" doc:"the winter design temperature closes small vent terminals with frost"`
	FixturesOnGravity int64  `json:"fixtures_on_gravity" unit:"count" doc:"fixtures that drain to the sewer without a pump"`
}

// Fixture is one fixture with its trap.
type Fixture struct {
	ID             string `json:"id" doc:"element id"`
	Kind           string `json:"kind" doc:"kind of fixture, as in the design schema"`
	Use            string `json:"use,omitempty" doc:"private, public or heavy"`
	Class          string `json:"class,omitempty" doc:"key of its row in the profile's fixture table; absent when no row fits"`
	Load           *int64 `json:"load,omitempty" unit:"load" doc:"fixture or discharge units; absent when neither table nor design gives it"`
	LoadFrom       string `json:"load_from,omitempty" doc:"what that load comes from: table, stated, trap or flow"`
	LoadStated     bool   `json:"load_stated" doc:"the design states a load for it"`
	StatedLoad     *int64 `json:"stated_load,omitempty" unit:"load" doc:"that load"`
	Flush          *int64 `json:"flush_volume,omitempty" unit:"volume" doc:"volume of one flush, as stated"`
	Indirect       bool   `json:"indirect" doc:"drains through an air gap into another fixture"`
	TrapStated     bool   `json:"trap_stated" doc:"the design says what trap it has, or that it has none"`
	TrapType       string `json:"trap_type,omitempty" doc:"p_trap, integral, s_trap, bell, drum, crown_vented, running or none"`
	TrapSize       string `json:"trap_size,omitempty" doc:"nominal size key, such as DN 50"`
	TrapDN         *int64 `json:"trap_dn,omitempty" unit:"size" doc:"nominal size"`
	TrapSeal       *int64 `json:"trap_seal,omitempty" unit:"length" doc:"depth of the seal"`
	SealProtection string `json:"seal_protection,omitempty" doc:"primer, barrier, regular_use or none"`
	TrapsInSeries  int64  `json:"traps_in_series" unit:"count" doc:"traps between the fixture and the first point where it is vented or joined"`
	OutletDrop     *int64 `json:"outlet_drop,omitempty" unit:"length" doc:"vertical distance from fixture outlet to trap weir"`
	OutletRun      *int64 `json:"outlet_run,omitempty" unit:"length" doc:"horizontal distance from fixture outlet to trap"`
	Interceptor    string `json:"interceptor,omitempty" doc:"solids, grease, sand or none"`
	DrainID        string `json:"drain_id,omitempty" doc:"first drain pipe after the trap"`
	DrainDN        *int64 `json:"drain_dn,omitempty" unit:"size" doc:"nominal size of that drain"`
	VentMethod     string `json:"vent_method" doc:"how its trap is protected: individual, common, wet, circuit, combination, stack, air_admittance, basin or none"`
	VentID         string `json:"vent_id,omitempty" doc:"the vent pipe that protects it"`
	VentSharedBy   *int64 `json:"vent_shared_by,omitempty" unit:"count" doc:"unvented fixture drains that share the vent fitting with it, its own included; absent where air comes down another drain"`
	JoinedUnvented bool   `json:"joined_unvented" doc:"its drain joins another unvented drain before any vent"`
	VentEndsAt     string `json:"vent_ends_at,omitempty" doc:"open_air, air_admittance_valve or nothing"`
	DrainsTo       string `json:"drains_to" doc:"basin, connection or nothing"`
	BasinID        string `json:"basin_id,omitempty" doc:"the basin it drains to"`
	ConnectionID   string `json:"connection_id,omitempty" doc:"the connection its drainage leaves by, through the pump where there is one"`
	FloodRim       *int64 `json:"flood_rim,omitempty" unit:"length" doc:"elevation of the flood-level rim"`
	Floor          *int64 `json:"floor,omitempty" unit:"length" doc:"elevation of its floor"`
	BelowManhole   *bool  `json:"below_manhole,omitempty" doc:"its floor is below the cover of the next upstream manhole"`
	ThroughValve   bool   `json:"through_backwater_valve" doc:"its drainage passes a backwater valve of the design, or one stated on its connection"`
	FallNeeded     *int64 `json:"fall_needed,omitempty" unit:"length" doc:"fall at the least slope of the profile from its trap weir to the sewer invert"`
	FallAvailable  *int64 `json:"fall_available,omitempty" unit:"length" doc:"height of its trap weir above the sewer invert"`
	CouldFall      *bool  `json:"could_fall,omitempty" doc:"it could reach the sewer by gravity at the least slope; absent when an elevation is not stated"`
}

// TrapArm is the drain from a trap weir to the fitting where its vent joins.
type TrapArm struct {
	ID           string `json:"id" doc:"id of the fixture"`
	FixtureKind  string `json:"fixture_kind" doc:"kind of fixture"`
	SelfSiphonic bool   `json:"self_siphonic" doc:"the fixture empties its own trap and refills it, as a water closet does"`
	Method       string `json:"method" doc:"how the trap is protected, as in fixtures"`
	Size         string `json:"size,omitempty" doc:"nominal size key of the smallest pipe in it"`
	DN           *int64 `json:"dn,omitempty" unit:"size" doc:"nominal size of the smallest pipe in it"`
	Diameter     *int64 `json:"diameter,omitempty" unit:"length" doc:"nominal diameter as a length"`
	Length       *int64 `json:"length,omitempty" unit:"length" doc:"developed length from trap weir to vent fitting"`
	Fall         *int64 `json:"fall,omitempty" unit:"length" doc:"total fall over that length"`
	Slope        *int64 `json:"slope,omitempty" unit:"slope" doc:"least slope of its horizontal pipes"`
	Turns        *int64 `json:"turns,omitempty" unit:"angle" doc:"sum of its changes of direction"`
	HasCleanout  bool   `json:"has_cleanout" doc:"a cleanout stands in it"`
	LevelPart    bool   `json:"level_part" doc:"a pipe of it does not stand upright"`
	VerticalDrop bool   `json:"vertical_drop" doc:"it contains a vertical pipe before the vent fitting"`
}

// Drain is one pipe that carries waste by gravity.
type Drain struct {
	ID             string   `json:"id" doc:"element id"`
	From           string   `json:"from" doc:"element it starts at"`
	To             string   `json:"to" doc:"element it ends at"`
	Role           string   `json:"role" doc:"fixture_drain, branch, stack, building_drain or building_sewer; as stated, else derived"`
	Lie            string   `json:"lie,omitempty" doc:"horizontal, vertical or sloped_45; as stated, else derived from the slope"`
	Size           string   `json:"size,omitempty" doc:"nominal size key, such as DN 80"`
	DN             *int64   `json:"dn,omitempty" unit:"size" doc:"nominal size"`
	Bore           *int64   `json:"bore,omitempty" unit:"length" doc:"actual inside diameter by material and size"`
	Material       string   `json:"material,omitempty" doc:"material key"`
	Length         *int64   `json:"length,omitempty" unit:"length" doc:"developed length"`
	Slope          *int64   `json:"slope,omitempty" unit:"slope" doc:"fall per run in the direction of flow; negative when it falls the wrong way"`
	Fall           *int64   `json:"fall,omitempty" unit:"length" doc:"fall from end to end"`
	InvertFrom     *int64   `json:"invert_from,omitempty" unit:"length" doc:"elevation of the invert at its upstream end"`
	InvertTo       *int64   `json:"invert_to,omitempty" unit:"length" doc:"elevation of the invert at its downstream end"`
	Load           *int64   `json:"load,omitempty" unit:"load" doc:"accumulated fixture or discharge units, pumped flow included as load; absent when the load of a fixture upstream is unknown"`
	Fixtures       int64    `json:"fixtures" unit:"count" doc:"fixtures that drain through it"`
	WaterClosets   int64    `json:"water_closets" unit:"count" doc:"water closets that drain through it, a pumped basin's included"`
	GravityClosets int64    `json:"gravity_water_closets" unit:"count" doc:"water closets that reach it by gravity alone"`
	FixtureKinds   []string `json:"fixture_kinds" doc:"kinds of fixtures that drain through it, each once, in order"`
	OnlyFixture    string   `json:"only_fixture,omitempty" doc:"the one fixture it carries, where it carries just one"`
	TrapArmOf      string   `json:"trap_arm_of,omitempty" doc:"the fixture whose trap arm it is part of"`
	LargestInflow  *int64   `json:"largest_inflow_dn,omitempty" unit:"size" doc:"largest nominal size that flows into its upstream end"`
	LargestFrom    string   `json:"largest_inflow_id,omitempty" doc:"the pipe or fixture outlet of that size"`
	InflowKind     string   `json:"largest_inflow_kind,omitempty" doc:"pipe, closet_outlet, fixture_outlet or trap; known for a fixture whether or not the size is stated"`
	Buried         *bool    `json:"buried,omitempty" doc:"it lies in the ground"`
	Cover          *int64   `json:"cover,omitempty" unit:"length" doc:"depth of cover"`
	DeadEnd        bool     `json:"dead_end" doc:"nothing drains into it and its upstream end has no cleanout"`
	Intervals      *int64   `json:"branch_intervals,omitempty" unit:"count" doc:"branch intervals of a stack"`
	ToBasin        string   `json:"to_basin,omitempty" doc:"the basin it empties into directly"`
	BasinID        string   `json:"basin_id,omitempty" doc:"the basin its flow reaches by gravity"`
	PumpedFlow     *int64   `json:"pumped_flow,omitempty" unit:"flow" doc:"pumped flow that it receives"`
	BelowStack     bool     `json:"joins_below_stack" doc:"a horizontal drain that joins, as a branch, a horizontal drain below the base of a stack"`
	FromStackBase  *int64   `json:"distance_from_stack_base,omitempty" unit:"length" doc:"for such a drain: developed length from the base of the nearest stack upstream to where it joins"`
	JoinedLoad     *int64   `json:"joined_load,omitempty" unit:"load" doc:"for such a drain: load that the drain it joins already carries there"`
	JoinedDiameter *int64   `json:"joined_diameter,omitempty" unit:"length" doc:"for such a drain: nominal diameter of the drain it joins, as a length"`
	DesignFlow     *int64   `json:"design_flow,omitempty" unit:"flow" doc:"peak flow by the profile's method, pumped and continuous flow added"`
	DesignFlowLow  *int64   `json:"design_flow_low,omitempty" unit:"flow" doc:"design flow with the pumps at the low end of their range"`
	DesignFlowHigh *int64   `json:"design_flow_high,omitempty" unit:"flow" doc:"design flow with the pumps at the high end of their range"`
	Filling        *int64   `json:"filling,omitempty" unit:"ratio" doc:"depth of flow over bore at design flow, with the roughness expected"`
	FillingLow     *int64   `json:"filling_low,omitempty" unit:"ratio" doc:"filling of a smooth pipe at the low design flow"`
	FillingHigh    *int64   `json:"filling_high,omitempty" unit:"ratio" doc:"filling of a rough pipe at the high design flow"`
	Velocity       *int64   `json:"velocity,omitempty" unit:"velocity" doc:"mean velocity at design flow, with the roughness expected"`
	VelocityLow    *int64   `json:"velocity_low,omitempty" unit:"velocity" doc:"mean velocity in a rough pipe at the low design flow"`
	VelocityHigh   *int64   `json:"velocity_high,omitempty" unit:"velocity" doc:"mean velocity in a smooth pipe at the high design flow"`
	FullCapacity   *int64   `json:"full_capacity,omitempty" unit:"flow" doc:"capacity flowing full, with the roughness expected"`
	FullLow        *int64   `json:"full_capacity_low,omitempty" unit:"flow" doc:"capacity of a rough pipe flowing full"`
	FullHigh       *int64   `json:"full_capacity_high,omitempty" unit:"flow" doc:"capacity of a smooth pipe flowing full"`
	AboveInlet     *int64   `json:"above_inlet,omitempty" unit:"length" doc:"invert with which it reaches its basin, above the inlet invert; negative when it arrives below; for drains that empty into a basin"`
}

// WetVent is a drain that also vents a fixture.
type WetVent struct {
	ID            string   `json:"id" doc:"id of the drain pipe"`
	Kind          string   `json:"kind" doc:"wet, circuit or combination"`
	Size          string   `json:"size,omitempty" doc:"nominal size key"`
	DN            *int64   `json:"dn,omitempty" unit:"size" doc:"nominal size"`
	Load          *int64   `json:"load,omitempty" unit:"load" doc:"load it carries"`
	Lie           string   `json:"lie,omitempty" doc:"horizontal or vertical"`
	FixtureKinds  []string `json:"fixture_kinds" doc:"kinds of fixtures that drain through it"`
	Fixtures      int64    `json:"fixtures" unit:"count" doc:"fixtures that drain through it"`
	OnLine        int64    `json:"fixtures_on_line" unit:"count" doc:"fixtures that drain through it, and those that join at the end of its circuit line and rely on it"`
	ClosetsAbove  int64    `json:"water_closets_upstream" unit:"count" doc:"water closets that drain through it"`
	FirstVented   string   `json:"first_vented,omitempty" doc:"kind of the fixture whose dry vent it relies on"`
	VentedFixture []string `json:"vented_fixtures" doc:"fixtures whose drains join at its lower end and rely on it; where none joins there, those of the wet vent below it"`
	VentedKinds   []string `json:"vented_kinds" doc:"kinds of those fixtures, each once, in order; an emergency floor drain is named so"`
}

// Vent is one pipe of a vent.
type Vent struct {
	ID            string `json:"id" doc:"element id"`
	Size          string `json:"size,omitempty" doc:"nominal size key"`
	DN            *int64 `json:"dn,omitempty" unit:"size" doc:"nominal size"`
	Lie           string `json:"lie,omitempty" doc:"horizontal, vertical or sloped_45"`
	Load          *int64 `json:"load,omitempty" unit:"load" doc:"load of the drains it vents"`
	DrainSize     string `json:"drain_size,omitempty" doc:"nominal size key of the largest drain it vents, basins apart"`
	DrainDN       *int64 `json:"drain_dn,omitempty" unit:"size" doc:"nominal size of the largest drain it vents, basins apart"`
	DrainDiameter *int64 `json:"drain_diameter,omitempty" unit:"length" doc:"nominal diameter of the largest drain it vents, as a length"`
	Diameter      *int64 `json:"diameter,omitempty" unit:"length" doc:"its own nominal diameter, as a length"`
	Length        *int64 `json:"length,omitempty" unit:"length" doc:"developed length from the farthest vent connection it serves to the open air or valve"`
	HasBelow      bool   `json:"has_vent_below" doc:"another vent leads into its lower end, and no larger vent leaves there beside it"`
	LargestBelow  *int64 `json:"largest_below_dn,omitempty" unit:"size" doc:"largest nominal size of the vents that lead into its lower end; absent when one is not stated"`
	LargestFrom   string `json:"largest_below_id,omitempty" doc:"the vent of that size"`
	EndsAt        string `json:"ends_at" doc:"open_air, air_admittance_valve or nothing"`
	TerminalID    string `json:"terminal_id,omitempty" doc:"the terminal it ends at"`
	ServesDrains  bool   `json:"serves_drains" doc:"it vents drains"`
	ServesBasin   bool   `json:"serves_basin" doc:"it vents a basin"`
	FromDrain     bool   `json:"from_drain" doc:"it starts at a drain: it is the dry vent's connection"`
	WaterCloset   bool   `json:"serves_water_closet" doc:"a water closet relies on it"`
	HeightAtTop   *int64 `json:"rise_above_rim,omitempty" unit:"length" doc:"height of its lower end, where it joins another vent or turns horizontal, above the highest flood-level rim it serves; for its upper end where it rises from a drain"`
	LowPoint      *int64 `json:"horizontal_above_rim,omitempty" unit:"length" doc:"height of its lowest horizontal part above the highest flood-level rim it serves; for horizontal vents only"`
	Slope         *int64 `json:"slope,omitempty" unit:"slope" doc:"rise towards the terminal for each run; negative when it holds water"`
}

// Terminal is a vent end in the open air.
type Terminal struct {
	ID           string `json:"id" doc:"element id"`
	Kind         string `json:"kind" doc:"roof_vent or wall_vent"`
	Size         string `json:"size,omitempty" doc:"nominal size key"`
	DN           *int64 `json:"dn,omitempty" unit:"size" doc:"nominal size of the terminal"`
	AboveRoof    *int64 `json:"height_above_roof,omitempty" unit:"length" doc:"height above the roof"`
	RoofUsed     *bool  `json:"roof_used,omitempty" doc:"people use the roof"`
	FromOpening  *int64 `json:"distance_to_opening,omitempty" unit:"length" doc:"horizontal distance to the nearest opening into the building"`
	AboveOpening *int64 `json:"height_above_opening,omitempty" unit:"length" doc:"height above the top of that opening"`
	FromLotLine  *int64 `json:"distance_to_lot_line,omitempty" unit:"length" doc:"distance to the lot line"`
	Frost        *bool  `json:"frost_closure,omitempty" doc:"the winter design temperature closes small terminals with frost"`
}

// AirAdmittanceValve lets air in and keeps sewer gas from coming out.
type AirAdmittanceValve struct {
	ID           string `json:"id" doc:"element id"`
	ValveType    string `json:"valve_type,omitempty" doc:"individual, branch or stack"`
	Size         string `json:"size,omitempty" doc:"nominal size key"`
	DN           *int64 `json:"dn,omitempty" unit:"size" doc:"nominal size of the valve"`
	VentDN       *int64 `json:"vent_dn,omitempty" unit:"size" doc:"nominal size of the vent it ends"`
	Load         *int64 `json:"load,omitempty" unit:"load" doc:"load of the drains it serves"`
	Rating       *int64 `json:"rating,omitempty" unit:"load" doc:"load it is rated for"`
	AboveDrain   *int64 `json:"height_above_drain,omitempty" unit:"length" doc:"height above the horizontal drain it serves"`
	AboveRim     *int64 `json:"height_above_rim,omitempty" unit:"length" doc:"height above the highest flood-level rim it serves"`
	Insulation   string `json:"insulation,omitempty" doc:"none or present around it"`
	AboveInsul   *int64 `json:"height_above_insulation,omitempty" unit:"length" doc:"height above the insulation"`
	Accessible   *bool  `json:"accessible,omitempty" doc:"it can be reached"`
	AirCanEnter  *bool  `json:"air_can_enter,omitempty" doc:"its space lets air in"`
	InPlenum     *bool  `json:"in_plenum,omitempty" doc:"it stands in a supply or return air plenum"`
	Length       *int64 `json:"length,omitempty" unit:"length" doc:"developed length of the vent it ends"`
	ServesBasin  bool   `json:"serves_basin" doc:"it vents a basin"`
	Engineered   bool   `json:"engineered" doc:"an engineered design is stated"`
	Fixtures     int64  `json:"fixtures" unit:"count" doc:"fixtures that rely on it"`
	WaterClosets int64  `json:"water_closets" unit:"count" doc:"water closets that rely on it"`
	Intervals    *int64 `json:"branch_intervals,omitempty" unit:"count" doc:"branch intervals of the stack it serves"`
}

// Fitting is a junction of drains or a bend in one.
type Fitting struct {
	ID           string    `json:"id" doc:"junction id, or pipe id and the bend's place in it, such as b3/bend-1"`
	Kind         string    `json:"kind,omitempty" doc:"fitting as in the design schema"`
	Source       string    `json:"source" doc:"junction or bend"`
	DN           *int64    `json:"dn,omitempty" unit:"size" doc:"nominal size of the outflow"`
	BranchDN     *int64    `json:"branch_dn,omitempty" unit:"size" doc:"largest nominal size that enters by a branch of it; absent when a size is not stated"`
	Changes      *[]string `json:"changes,omitempty" doc:"changes of direction of flow made through its branch or bend: horizontal_to_vertical, vertical_to_horizontal, horizontal_to_horizontal, vertical_to_vertical; absent when the lie of a pipe is unknown"`
	Double       bool      `json:"double" doc:"two branches enter opposite each other"`
	BackToBack   bool      `json:"back_to_back" doc:"its inlets are stated to face each other"`
	Closets      int64     `json:"water_closet_inlets" unit:"count" doc:"inlets that carry a water closet's fixture drain"`
	PumpedInlets int64     `json:"pumped_inlets" unit:"count" doc:"inlets that are pumped discharges"`
	FixtureDrain bool      `json:"fixture_drain" doc:"the drain is a fixture drain"`
}

// Joint is one stated joint.
type Joint struct {
	ID        string   `json:"id" doc:"pipe id and the joint's place in it, such as b3/joint-1"`
	Kind      string   `json:"kind" doc:"kind of joint"`
	Materials []string `json:"materials" doc:"the materials it joins, each once"`
	Buried    *bool    `json:"buried,omitempty" doc:"it lies in the ground"`
	Pumped    bool     `json:"pumped" doc:"it is in a pumped line"`
	Role      string   `json:"role,omitempty" doc:"role of the drain it is in"`
}

// Cleanout is an opening to rod a drain.
type Cleanout struct {
	ID        string `json:"id" doc:"element id"`
	PipeID    string `json:"pipe_id" doc:"the drain it serves"`
	DN        *int64 `json:"dn,omitempty" unit:"size" doc:"nominal size"`
	PipeDN    *int64 `json:"pipe_dn,omitempty" unit:"size" doc:"nominal size of the drain"`
	PipeSize  string `json:"pipe_size,omitempty" doc:"nominal size key of the drain"`
	Clearance *int64 `json:"clearance,omitempty" unit:"length" doc:"free space in front of it"`
	Access    *bool  `json:"accessible,omitempty" doc:"it can be reached"`
}

// CleanoutNeed is a place where codes ask for a cleanout.
type CleanoutNeed struct {
	ID       string   `json:"id" doc:"pipe id and reason, such as b3/upper-end"`
	Reason   string   `json:"reason" doc:"upper_end, direction_change, stack_base or building_exit"`
	PipeID   string   `json:"pipe_id" doc:"the drain"`
	Role     string   `json:"role" doc:"role of that drain"`
	Length   *int64   `json:"length,omitempty" unit:"length" doc:"developed length of the horizontal drain from here to its end"`
	Turn     *int64   `json:"turn,omitempty" unit:"angle" doc:"change of direction at this place"`
	HasOne   bool     `json:"has_cleanout" doc:"a cleanout stands at this place"`
	Distance *int64   `json:"distance_to_cleanout,omitempty" unit:"length" doc:"developed length to the nearest cleanout upstream on the same drain; 0 where it stands here; absent when there is none or a length is unknown"`
	Any      bool     `json:"any_upstream" doc:"there is a cleanout at this place or upstream of it on the same drain"`
	Kinds    []string `json:"fixture_kinds" doc:"kinds of fixtures that drain through the drain"`
	Closet   bool     `json:"fixture_removable" doc:"the drain starts at a fixture or trap that can be taken off to rod it"`
}

// CleanoutRun is a stretch of horizontal drain that one cleanout must serve.
type CleanoutRun struct {
	ID     string `json:"id" doc:"id of the drain at its downstream end"`
	Role   string `json:"role" doc:"role of that drain"`
	Size   string `json:"size,omitempty" doc:"nominal size key of that drain"`
	DN     *int64 `json:"dn,omitempty" unit:"size" doc:"nominal size of that drain"`
	Length *int64 `json:"length,omitempty" unit:"length" doc:"developed length between cleanouts, or from the upper end to the first"`
	Turns  int64  `json:"turns" unit:"angle" doc:"sum of the bends within the horizontal between two cleanouts, or from the upper end to the first"`
}
