# METADATA
# title: Double fitting where it must not be used
# description: Water closets back to back, or a pumped discharge, do not enter a double fitting whose inlets face each other. A double wye is not meant here.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: fitting
#   message: "{subject} takes {measured} through inlets that face each other"
#   remedy: "Use a double wye or a double combination wye, or bring the inlets in at different heights."
#   rationale: "A flush shoots straight across into the opposite branch, and can lift the water out of the other closet."
#   needs: [kind]
#   tables: [fitting.double_not_for]
#   status: stable
package rules.drain.double_fitting_misused

import data.lib.judge

subject[f.id] := f if {
	some f in input.fittings
	f.double == true
	not f.kind == "double_wye"
	not f.kind == "double_combination_wye"
}

verdict[id] := judge.none({w | some w in barred; carries(f, w)}) if {
	some id, f in subject
	f.kind
	barred := data.profile.fitting.double_not_for
}

carries(f, "water_closet") if f.water_closet_inlets > 1

carries(f, "pumped") if f.pumped_inlets > 0
