package facts

// Basin is a sump with what it receives.
type Basin struct {
	ID             string `json:"id" doc:"element id"`
	Shape          string `json:"shape,omitempty" doc:"round or rectangular"`
	Diameter       *int64 `json:"diameter,omitempty" unit:"length" doc:"inside diameter, or the shorter side of a rectangle"`
	Depth          *int64 `json:"depth,omitempty" unit:"length" doc:"floor to underside of cover"`
	GasTight       *bool  `json:"gas_tight,omitempty" doc:"the cover is gas-tight"`
	Fastened       *bool  `json:"fastened,omitempty" doc:"the cover is fastened"`
	Removable      *bool  `json:"removable,omitempty" doc:"the cover can be taken off"`
	Accessible     *bool  `json:"accessible,omitempty" doc:"the basin can be reached"`
	Load           *int64 `json:"load,omitempty" unit:"load" doc:"load of the fixtures that drain to it"`
	Fixtures       int64  `json:"fixtures" unit:"count" doc:"fixtures that drain to it"`
	WaterClosets   int64  `json:"water_closets" unit:"count" doc:"water closets that drain to it"`
	Urinals        int64  `json:"urinals" unit:"count" doc:"urinals that drain to it"`
	CouldFall      *int64 `json:"fixtures_that_could_fall,omitempty" unit:"count" doc:"its fixtures that could reach the sewer by gravity; absent when an elevation is not stated"`
	InletDN        *int64 `json:"inlet_dn,omitempty" unit:"size" doc:"nominal size of the inlet"`
	LargestDrain   *int64 `json:"largest_drain_dn,omitempty" unit:"size" doc:"largest drain that empties into it"`
	LargestDrainID string `json:"largest_drain_id,omitempty" doc:"that drain"`
	InletHeight    *int64 `json:"inlet_height,omitempty" unit:"length" doc:"inlet invert above the basin floor"`
	DrainHeight    *int64 `json:"drain_height,omitempty" unit:"length" doc:"invert of the lowest drain that reaches it, above the inlet invert; negative when the drain arrives below its inlet"`
	StopLevel      *int64 `json:"stop_level,omitempty" unit:"length" doc:"pump stop above the floor"`
	StartLevel     *int64 `json:"start_level,omitempty" unit:"length" doc:"first pump start above the floor"`
	HighestStart   *int64 `json:"highest_start,omitempty" unit:"length" doc:"highest pump start above the floor: the highest working level"`
	AlarmLevel     *int64 `json:"alarm_level,omitempty" unit:"length" doc:"alarm above the floor"`
	BelowInlet     *int64 `json:"start_below_inlet,omitempty" unit:"length" doc:"inlet invert minus highest working level"`
	VentID         string `json:"vent_id,omitempty" doc:"first pipe of its vent"`
	HasVent        bool   `json:"has_vent" doc:"a vent pipe starts at it"`
	VentSize       string `json:"vent_size,omitempty" doc:"nominal size key of the smallest pipe of its vent"`
	VentDN         *int64 `json:"vent_dn,omitempty" unit:"size" doc:"smallest nominal size of its vent"`
	VentLength     *int64 `json:"vent_length,omitempty" unit:"length" doc:"developed length of its vent to the open air"`
	VentEndsAt     string `json:"vent_ends_at,omitempty" doc:"open_air, air_admittance_valve or nothing"`
	VentJoined     bool   `json:"vent_joined" doc:"its vent joins the vent of drains before the open air"`
	EngineeredVent bool   `json:"engineered_vent" doc:"an engineered vent design is stated"`
	PumpRate       *int64 `json:"pump_rate,omitempty" unit:"flow" doc:"largest rate of one pump at its operating point"`
	PumpRateLow    *int64 `json:"pump_rate_low,omitempty" unit:"flow" doc:"low end of that rate"`
	PumpRateHigh   *int64 `json:"pump_rate_high,omitempty" unit:"flow" doc:"high end of that rate"`
	TotalRate      *int64 `json:"total_rate,omitempty" unit:"flow" doc:"rate of all pumps running together, where they share a line at their common operating point"`
	TotalRateLow   *int64 `json:"total_rate_low,omitempty" unit:"flow" doc:"low end of that rate"`
	TotalRateHigh  *int64 `json:"total_rate_high,omitempty" unit:"flow" doc:"high end of that rate"`
	KeepsUp        *bool  `json:"one_pump_keeps_up,omitempty" doc:"the largest pump alone delivers the peak inflow or more, with the rate expected"`
	Excess         *int64 `json:"excess_inflow,omitempty" unit:"flow" doc:"peak inflow beyond the rate of the largest pump; 0 where it keeps up"`
	ExcessHigh     *int64 `json:"excess_inflow_high,omitempty" unit:"flow" doc:"the same with the pump at the low end of its range"`
	TimeToInlet    *int64 `json:"time_to_inlet,omitempty" unit:"duration" doc:"time in which the excess fills the basin from its highest start to the inlet; absent where one pump keeps up"`
	Pumps          int64  `json:"pumps" unit:"count" doc:"pumps in it"`
	AlarmStated    bool   `json:"alarm_stated" doc:"the design says what alarm it has"`
	AlarmKind      string `json:"alarm_kind,omitempty" doc:"audible, visual, audible_and_visual or none"`
	AlarmOwn       *bool  `json:"alarm_own_circuit,omitempty" doc:"the alarm has a circuit of its own"`
	BuildingUse    string `json:"building_use,omitempty" doc:"use of the building"`
	DwellingUnits  *int64 `json:"dwelling_units,omitempty" unit:"count" doc:"dwelling units in the building"`
	Inflow         *int64 `json:"peak_inflow,omitempty" unit:"flow" doc:"peak inflow by the profile's method"`
	Drawdown       *int64 `json:"drawdown,omitempty" unit:"volume" doc:"volume between start and stop"`
	Reserve        *int64 `json:"reserve,omitempty" unit:"volume" doc:"volume between alarm and inlet invert"`
	StorageAbove   *int64 `json:"storage_above_start,omitempty" unit:"volume" doc:"volume between the highest pump start and the inlet invert"`
	ReserveTime    *int64 `json:"reserve_time,omitempty" unit:"duration" doc:"time in which the mean inflow fills the volume between alarm and inlet invert"`
	HoldTime       *int64 `json:"hold_time,omitempty" unit:"duration" doc:"time between runs at mean inflow"`
	OutageTime     *int64 `json:"outage_time,omitempty" unit:"duration" doc:"time in which the mean inflow fills the basin from its first start to the inlet when the power fails"`
	Flotation      *int64 `json:"flotation_factor,omitempty" unit:"factor" doc:"resisting weight over uplift, basin empty; absent where ground water stays below it"`
	BallastNeeded  *int64 `json:"ballast_needed,omitempty" unit:"weight" doc:"further weight inside the basin, or above ground water, that reaches the profile's least flotation factor; 0 where it is reached"`
	ConcreteNeeded *int64 `json:"concrete_needed,omitempty" unit:"volume" doc:"further concrete under ground water that reaches it, its own displacement counted; 0 where it is reached"`
	Bedding        string `json:"bedding,omitempty" doc:"bedding as stated"`
}

// Pump is one pump.
type Pump struct {
	ID            string `json:"id" doc:"element id"`
	BasinID       string `json:"basin_id" doc:"the basin it empties"`
	Kind          string `json:"kind,omitempty" doc:"solids_handling, grinder, macerating or effluent"`
	Solids        *int64 `json:"solids,omitempty" unit:"length" doc:"largest sphere it passes"`
	OutletDN      *int64 `json:"outlet_dn,omitempty" unit:"size" doc:"nominal size of its outlet"`
	DischargeID   string `json:"discharge_id,omitempty" doc:"first pipe of its pumped line"`
	DischargeDN   *int64 `json:"discharge_dn,omitempty" unit:"size" doc:"smallest nominal size of its pumped line"`
	DischargeSize string `json:"discharge_size,omitempty" doc:"nominal size key of that size"`
	WaterClosets  int64  `json:"water_closets" unit:"count" doc:"water closets that drain to its basin"`
	Urinals       int64  `json:"urinals" unit:"count" doc:"urinals that drain to its basin"`
	Fixtures      int64  `json:"fixtures" unit:"count" doc:"fixtures that drain to its basin"`
	Rate          *int64 `json:"rate,omitempty" unit:"flow" doc:"rate at its operating point, or as stated where no curve is given"`
	RateLow       *int64 `json:"rate_low,omitempty" unit:"flow" doc:"rate with rough pipe and the pump at the low end of its tolerance; 0 where it cannot lift then"`
	RateHigh      *int64 `json:"rate_high,omitempty" unit:"flow" doc:"rate with smooth pipe and the pump at the high end of its tolerance"`
	RateBasis     string `json:"rate_basis,omitempty" doc:"operating_point or stated"`
	Friction      string `json:"friction_method,omitempty" doc:"hazen_williams or darcy_weisbach: how the friction of its line is computed"`
	Head          *int64 `json:"head,omitempty" unit:"length" doc:"head at its operating point"`
	StaticHead    *int64 `json:"static_head,omitempty" unit:"length" doc:"static lift from stop level to the highest point or outlet"`
	ShutOffHead   *int64 `json:"shut_off_head,omitempty" unit:"length" doc:"head at no flow"`
	CannotLift    *bool  `json:"cannot_lift,omitempty" doc:"the pump curve and the system curve never meet"`
	BeyondCurve   *bool  `json:"beyond_curve,omitempty" doc:"the operating point lies beyond the last stated point"`
	MayNotLift    *bool  `json:"may_not_lift,omitempty" doc:"the curves never meet at the low end: rough pipe and the pump at the low end of its tolerance"`
	MayExceed     *bool  `json:"may_exceed_curve,omitempty" doc:"the operating point lies beyond the last stated point at the high end"`
	Inflow        *int64 `json:"peak_inflow,omitempty" unit:"flow" doc:"peak inflow to its basin"`
	Starts        *int64 `json:"starts_per_hour,omitempty" unit:"factor" doc:"starts in an hour at the worst inflow"`
	StartsLow     *int64 `json:"starts_per_hour_low,omitempty" unit:"factor" doc:"the same at the low end of its rate"`
	StartsHigh    *int64 `json:"starts_per_hour_high,omitempty" unit:"factor" doc:"the same at the high end of its rate"`
	RunTime       *int64 `json:"run_time,omitempty" unit:"duration" doc:"time from start to stop with no inflow"`
	RunTimeLow    *int64 `json:"run_time_low,omitempty" unit:"duration" doc:"the same at the high end of its rate"`
	RunTimeHigh   *int64 `json:"run_time_high,omitempty" unit:"duration" doc:"the same at the low end of its rate"`
	MaxStarts     *int64 `json:"max_starts_per_hour,omitempty" unit:"factor" doc:"starts in an hour that its motor allows, as stated"`
	PumpsInBasin  int64  `json:"pumps_in_basin" unit:"count" doc:"pumps in its basin"`
	HasCheck      bool   `json:"has_check_valve" doc:"a check valve stands in its line"`
	ReliefHole    *int64 `json:"relief_hole,omitempty" unit:"length" doc:"diameter of the air relief hole between pump and check valve"`
	HasRelief     bool   `json:"has_relief_hole" doc:"a relief hole is stated between pump and check valve"`
	Cord          *int64 `json:"cord_length,omitempty" unit:"length" doc:"length of its cord"`
	Receptacle    *int64 `json:"receptacle_distance,omitempty" unit:"length" doc:"length of the cord's route to the receptacle"`
	BuildingUse   string `json:"building_use,omitempty" doc:"use of the building"`
	DwellingUnits *int64 `json:"dwelling_units,omitempty" unit:"count" doc:"dwelling units in the building"`
	AlarmStated   bool   `json:"alarm_stated" doc:"the design says what alarm its basin has"`
	AlarmKind     string `json:"alarm_kind,omitempty" doc:"alarm of its basin"`
	AlarmOwn      *bool  `json:"alarm_own_circuit,omitempty" doc:"the alarm has a circuit of its own"`
}
