package calcs

func headFormulas() {
	us, si := same("zh - zs")
	add("static_head", "static head", length("Hs", "static head"), []symbol{length("zh", "elevation of the highest invert of the line"), length("zs", "elevation of the stop level")}, us, si,
		"stop level to the highest point or outlet (common practice)")
	add("full_velocity", "velocity of the full pipe", velocity, []symbol{flow("Q", "flow"), bore},
		"0.408498 * Q / d^2", "1273.24 * Q / d^2", "continuity")
	l := length("L", "developed length")
	add("hazen_williams", "friction of the pipe", length("hf", "friction loss"), []symbol{l, flow("Q", "flow"), number("C", "Hazen-Williams coefficient"), bore},
		"10.4621 * L * Q^1.852 / (C^1.852 * d^4.871)", "12162900000 * L * Q^1.852 / (C^1.852 * d^4.871)", "Hazen-Williams: EPANET source code, hydcoeffs.c (checked)")
	add("reynolds", "Reynolds number", number("Re", "Reynolds number"), []symbol{velocity, bore, {"nu", "kinematic viscosity", "viscosity"}},
		"V * d / 12 / nu", "V * d / 1000 / nu", "definition; water at 20 C")
	us, si = same("1 / (2 * log10(e / (3.7 * d) + 2.51 / (Re * sqrt(f))))^2")
	add("colebrook", "friction factor", number("f", "Darcy friction factor"), []symbol{short("e", "roughness"), bore, number("Re", "Reynolds number"), number("f", "the same, iterated until it settles")},
		us, si, "Colebrook: Clamond, Ind. Eng. Chem. Res. 2009, 48, 3665 (checked)")
	add("darcy_weisbach", "friction of the pipe", length("hf", "friction loss"), []symbol{number("f", "Darcy friction factor"), l, bore, velocity},
		"f * (12 * L / d) * V^2 / (2 * 32.174)", "f * (1000 * L / d) * V^2 / (2 * 9.80665)", "Darcy-Weisbach (checked)")
	add("minor_loss", "bends, valves and outlet", length("hm", "loss of fittings"), []symbol{number("K", "sum of loss coefficients"), velocity},
		"K * V^2 / (2 * 32.174)", "K * V^2 / (2 * 9.80665)", energy+"; K from the table of EPANET 2 (from memory), or as stated")
	us, si = same("Hs + hf + hm")
	add("system_head", "head the line asks", length("H", "head"), []symbol{length("Hs", "static head"), length("hf", "friction of all pipes"), length("hm", "fittings of all pipes")}, us, si,
		energy+"; N.J.A.C. 7:9A-9.7 (checked)")
}

func pumpFormulas() {
	us, si := same("Qa + (Ha - H) * (Qb - Qa) / (Ha - Hb)")
	add("pump_segment", "where the pump gives that head", flow("Q", "flow at the operating point"),
		[]symbol{length("H", "head the line asks"), flow("Qa", "flow of the point before"), flow("Qb", "flow of the point after"), length("Ha", "head of the point before"), length("Hb", "head of the point after")},
		us, si, "straight line between two stated points of the pump curve; the flow was found by bisection")
	us, si = same("ln((H0 - H2) / (H0 - H1)) / ln(Qb / Qa)")
	add("curve_power", "exponent of the pump curve", number("c", "exponent"),
		[]symbol{length("H0", "head at no flow"), length("H1", "head of the second point"), length("H2", "head of the third point"), flow("Qa", "flow of the second point"), flow("Qb", "flow of the third point")},
		us, si, "three-point curve H = H0 - r Q^c: EPANET source code (from memory)")
	us, si = same("Qa * ((H0 - H) / (H0 - H1))^(1 / c)")
	add("pump_power", "where the pump gives that head", flow("Q", "flow at the operating point"),
		[]symbol{length("H", "head the line asks"), length("H0", "head at no flow"), length("H1", "head of the second point"), flow("Qa", "flow of the second point"), number("c", "exponent")},
		us, si, "three-point curve H = H0 - r Q^c; the flow was found by bisection")
	us, si = same("Q1 + Q2")
	add("two_pumps", "two pumps running together", flow("Q", "flow of both"), []symbol{flow("Q1", "flow of the first at the common head"), flow("Q2", "flow of the second")}, us, si,
		"flows add at one head: Chin, lecture on adding pumps (scribd.com/document/525238484)")
}

func basinFormulas() {
	high, low := short("zb", "upper level above the floor"), short("za", "lower level above the floor")
	add("volume_round", "volume between two levels", volume("Vol", "volume"), []symbol{short("D", "inside diameter"), high, low},
		"pi / 4 * D^2 * (zb - za) / 231", "pi / 4 * D^2 * (zb - za) / 1000000", geometry)
	add("volume_rectangular", "volume between two levels", volume("Vol", "volume"), []symbol{short("a", "inside length"), short("b", "inside width"), high, low},
		"a * b * (zb - za) / 231", "a * b * (zb - za) / 1000000", geometry)
	add("pipe_volume", "content of a pipe", volume("Vol", "volume"), []symbol{bore, length("L", "developed length")},
		"pi / 4 * d^2 * 12 * L / 231", "pi / 4 * d^2 * L / 1000", geometry)
	add("run_time", "run from start to stop, no inflow", symbol{"t", "run time", "seconds"}, []symbol{volume("Vol", "drawdown"), flow("Qp", "rate of the pump")},
		"60 * Vol / Qp", "Vol / Qp", "continuity")
	add("starts_per_hour", "starts at the worst inflow", symbol{"N", "starts in an hour", "per_hour"},
		[]symbol{flow("Qp", "rate of the pump"), volume("Vol", "drawdown"), volume("Vb", "what runs back from the line")},
		"60 * Qp / (sqrt(Vol - Vb) + sqrt(Vol))^2", "3600 * Qp / (sqrt(Vol - Vb) + sqrt(Vol))^2", cyclePage)
	add("retention", "time to fill at the mean inflow", symbol{"t", "time", "minutes"}, []symbol{volume("Vol", "volume"), flow("Qm", "mean inflow")},
		"Vol / Qm", "Vol / Qm / 60", "continuity")
	add("time_to_inlet", "level rise at the peak inflow", symbol{"t", "time from the highest start to the inlet", "minutes"},
		[]symbol{volume("Vol", "volume between highest start and inlet"), flow("Qi", "peak inflow"), flow("Qp", "rate of one pump")},
		"Vol / (Qi - Qp)", "Vol / (Qi - Qp) / 60", "continuity")
}

func flotationFormulas() {
	uplift, holds := symbol{"U", "uplift", "force"}, symbol{"W", "weight of basin, equipment and ballast", "force"}
	water := symbol{"gw", "unit weight of water", "unit_weight"}
	us, si := same("gw * Vd")
	add("uplift", "uplift of the empty basin", uplift, []symbol{water, {"Vd", "volume below ground water, slab included", "space"}}, us, si, afloat)
	us, si = same("(W + Wc + Ws) / U")
	add("flotation_factor", "factor against floating", number("SF", "factor"), []symbol{holds, {"Wc", "weight of the slab", "force"}, {"Ws", "soil over lid and ledge, submerged below ground water", "force"}, uplift}, us, si, afloat)
	us, si = same("max(0, SF * U - Wr)")
	resisting := symbol{"Wr", "everything that holds down", "force"}
	factor := number("SF", "factor asked for")
	add("ballast", "further weight for the factor asked for", symbol{"Wb", "weight that displaces no more water", "force"}, []symbol{factor, uplift, resisting}, us, si, afloat)
	us, si = same("max(0, (SF * U - Wr) / (gc - SF * gw))")
	add("ballast_concrete", "or concrete under ground water", symbol{"Vc", "volume of concrete", "space"}, []symbol{factor, uplift, resisting, {"gc", "unit weight of concrete", "unit_weight"}, water}, us, si, afloat+", its own displacement counted")
}

func leavingFormulas() {
	us, si := same("L * S")
	add("fall_needed", "fall needed to the sewer", length("hn", "fall"), []symbol{length("L", "developed length to the sewer"), slope}, us, si, "least slope of the profile all the way (common practice for a first look)")
	us, si = same("zw - zi")
	add("fall_available", "fall that there is", length("ha", "fall"), []symbol{length("zw", "elevation of the trap weir"), length("zi", "elevation of the sewer invert")}, us, si, geometry)
	us, si = same("u * Q")
	add("pump_load", "load the pump stands for", load, []symbol{{"u", "units for a rate", "load_rate"}, flow("Q", "rate of the pump")}, us, si, "the profile's load for a continuous flow")
	us, si = same("Fo + Fp")
	add("receiver_load", "load of the drain that receives the pump", load, []symbol{{"Fo", "load without the pump", "load"}, {"Fp", "load the pump stands for", "load"}}, us, si, "loads add (model codes, from memory)")
}
