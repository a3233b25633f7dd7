package facts

// Discharge is one pumped line.
type Discharge struct {
	ID                string   `json:"id" doc:"id of its first pipe"`
	Pipes             []string `json:"pipes" doc:"its pipes in order of flow"`
	PumpID            string   `json:"pump_id,omitempty" doc:"the pump that feeds it"`
	PumpKind          string   `json:"pump_kind,omitempty" doc:"kind of that pump"`
	BasinID           string   `json:"basin_id,omitempty" doc:"the basin it empties"`
	WaterClosets      int64    `json:"water_closets" unit:"count" doc:"water closets that drain to that basin"`
	Fixtures          int64    `json:"fixtures" unit:"count" doc:"fixtures that drain to that basin"`
	BuildingUse       string   `json:"building_use,omitempty" doc:"use of the building"`
	DwellingUnits     *int64   `json:"dwelling_units,omitempty" unit:"count" doc:"dwelling units in the building"`
	DN                *int64   `json:"dn,omitempty" unit:"size" doc:"smallest nominal size of the line"`
	Size              string   `json:"size,omitempty" doc:"nominal size key of that size"`
	Opening           *int64   `json:"opening,omitempty" unit:"length" doc:"nominal diameter of that size as a length"`
	Length            *int64   `json:"length,omitempty" unit:"length" doc:"developed length"`
	Materials         []string `json:"materials,omitempty" doc:"its materials, each once; absent when one is not stated"`
	Rated             *bool    `json:"pressure_rated,omitempty" doc:"every pipe states a pressure rating at or above the pump's shut-off head"`
	RatingStated      bool     `json:"rating_stated" doc:"every pipe states a pressure rating"`
	LeastRating       *int64   `json:"least_rating,omitempty" unit:"pressure" doc:"least stated pressure rating"`
	PumpPressure      *int64   `json:"pump_pressure,omitempty" unit:"pressure" doc:"pressure of the pump's shut-off head"`
	Devices           []string `json:"devices" doc:"kinds of its devices in order of flow"`
	CheckValve        bool     `json:"has_check_valve" doc:"it has a check valve"`
	OwnCheck          bool     `json:"own_check_valve" doc:"it has a check valve before it meets the line of another pump"`
	Shutoff           bool     `json:"has_shutoff" doc:"it has a full-open or other shutoff valve"`
	InOrder           *bool    `json:"check_before_shutoff,omitempty" doc:"the check valve stands before the shutoff in the direction of flow; present where both exist"`
	Velocity          *int64   `json:"velocity,omitempty" unit:"velocity" doc:"velocity at the operating point in the widest pipe of the line"`
	VelocityLow       *int64   `json:"velocity_low,omitempty" unit:"velocity" doc:"the same at the low end of the rate"`
	VelocityHigh      *int64   `json:"velocity_high,omitempty" unit:"velocity" doc:"the same at the high end of the rate"`
	GreatestVelocity  *int64   `json:"greatest_velocity,omitempty" unit:"velocity" doc:"velocity at the operating point in the narrowest pipe of the line"`
	HighPoint         *int64   `json:"high_point,omitempty" unit:"length" doc:"highest invert of the line"`
	Rate              *int64   `json:"rate,omitempty" unit:"flow" doc:"rate at the operating point, or as stated"`
	RateLow           *int64   `json:"rate_low,omitempty" unit:"flow" doc:"low end of the rate"`
	RateHigh          *int64   `json:"rate_high,omitempty" unit:"flow" doc:"high end of the rate"`
	DrainBack         *int64   `json:"drain_back,omitempty" unit:"volume" doc:"what runs back to the basin after each run: the pipe up to the check valve, or the whole line where there is none"`
	HeldVolume        *int64   `json:"held_volume,omitempty" unit:"volume" doc:"what the line holds above its check valve"`
	ReceiverID        string   `json:"receiver_id,omitempty" doc:"connection or junction that receives it"`
	ReceiverKind      string   `json:"receiver_kind,omitempty" doc:"building_drain, building_sewer, stack or branch"`
	ReceiverLie       string   `json:"receiver_lie,omitempty" doc:"horizontal or vertical"`
	ReceiverSize      string   `json:"receiver_size,omitempty" doc:"nominal size key of the drain that receives it"`
	ReceiverDN        *int64   `json:"receiver_dn,omitempty" unit:"size" doc:"nominal size of the drain that receives it"`
	ReceiverDiameter  *int64   `json:"receiver_diameter,omitempty" unit:"length" doc:"nominal diameter of that drain as a length"`
	ReceiverSlope     *int64   `json:"receiver_slope,omitempty" unit:"slope" doc:"slope of that drain"`
	ReceiverIntervals *int64   `json:"receiver_branch_intervals,omitempty" unit:"count" doc:"branch intervals of the stack that receives it"`
	PumpLoad          *int64   `json:"pump_load,omitempty" unit:"load" doc:"its rate as load, by the profile's conversion"`
	TotalLoad         *int64   `json:"total_load,omitempty" unit:"load" doc:"load of the receiving drain with it"`
	TotalLoadLow      *int64   `json:"total_load_low,omitempty" unit:"load" doc:"the same with the pumps at the low end of their range"`
	TotalLoadHigh     *int64   `json:"total_load_high,omitempty" unit:"load" doc:"the same with the pumps at the high end of their range"`
	Fitting           string   `json:"fitting,omitempty" doc:"fitting at the receiving drain"`
	Entry             string   `json:"entry,omitempty" doc:"top, side or bottom"`
	FromStackBase     *int64   `json:"distance_from_stack_base,omitempty" unit:"length" doc:"developed length from the base of the nearest stack upstream"`
	NoStack           bool     `json:"no_stack_upstream" doc:"no stack stands upstream of it inside the design and the receiver is not a connection"`
	NoFixtureDrain    bool     `json:"no_fixture_drain_upstream" doc:"no fixture drain stands upstream of it inside the design and the receiver is not a connection"`
	FromFixture       *int64   `json:"distance_from_fixture_drain,omitempty" unit:"length" doc:"developed length from the nearest fixture drain upstream"`
	LoopHeight        *int64   `json:"loop_above_backflow,omitempty" unit:"length" doc:"highest invert above the backflow level"`
}

// Valve is one valve of a pumped line.
type Valve struct {
	ID          string `json:"id" doc:"element id"`
	Kind        string `json:"kind" doc:"check_valve, full_open_valve or shutoff_valve"`
	Style       string `json:"style,omitempty" doc:"gate, ball, plug, globe, butterfly, swing or lift"`
	Place       string `json:"place,omitempty" doc:"above_cover, access_pit, inside_basin, buried, in_wall, exposed or in_floor"`
	Accessible  *bool  `json:"accessible,omitempty" doc:"it can be reached"`
	DischargeID string `json:"discharge_id" doc:"the pumped line it is in"`
	Order       int64  `json:"order" unit:"count" doc:"its place among the valves of the line, from 1"`
}

// Connection is an existing drain that takes the design's drainage.
type Connection struct {
	ID           string `json:"id" doc:"element id"`
	Kind         string `json:"kind" doc:"building_drain, building_sewer, stack or branch"`
	Lie          string `json:"lie,omitempty" doc:"horizontal or vertical"`
	Size         string `json:"size,omitempty" doc:"nominal size key"`
	DN           *int64 `json:"dn,omitempty" unit:"size" doc:"nominal size"`
	Slope        *int64 `json:"slope,omitempty" unit:"slope" doc:"slope of the existing drain"`
	ExistingLoad *int64 `json:"existing_load,omitempty" unit:"load" doc:"load it already carries"`
	AddedLoad    *int64 `json:"added_load,omitempty" unit:"load" doc:"load the design adds, pumped flow included"`
	TotalLoad    *int64 `json:"total_load,omitempty" unit:"load" doc:"both together"`
	WaterClosets int64  `json:"water_closets" unit:"count" doc:"water closets on it, existing and added"`
	Gravity      bool   `json:"receives_gravity" doc:"a gravity drain ends at it"`
	Pumped       bool   `json:"receives_pumped" doc:"a pumped line ends at it"`
	LargestDN    *int64 `json:"largest_inflow_dn,omitempty" unit:"size" doc:"largest drain that ends at it"`
	Intervals    *int64 `json:"branch_intervals,omitempty" unit:"count" doc:"branch intervals of a stack"`
	DrainHeight  *int64 `json:"drain_height,omitempty" unit:"length" doc:"invert of the lowest drain that ends at it, above its own invert; negative when the drain arrives below it"`
}

// BackwaterValve keeps the sewer from flowing back.
type BackwaterValve struct {
	ID          string   `json:"id" doc:"element id"`
	PipeID      string   `json:"pipe_id" doc:"the drain it stands in"`
	Accessible  *bool    `json:"accessible,omitempty" doc:"it can be reached"`
	AboveServed *int64   `json:"fixtures_above_manhole,omitempty" unit:"count" doc:"fixtures above the next upstream manhole cover whose drainage passes it; absent when an elevation is not stated"`
	Above       []string `json:"fixtures_above,omitempty" doc:"those fixtures; absent where there are none or very many"`
}
