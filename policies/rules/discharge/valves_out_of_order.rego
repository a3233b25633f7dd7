# METADATA
# title: Check valve after the shutoff valve
# description: In the direction of flow the check valve stands before the shutoff valve.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} has its shutoff valve before its check valve"
#   remedy: "Swap them: pump, check valve, shutoff valve."
#   rationale: "The shutoff must hold back the full line while the check valve is opened for cleaning."
#   needs: [check_before_shutoff]
#   tables: []
#   status: stable
package rules.discharge.valves_out_of_order

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.is_true(d.check_before_shutoff) if {
	some id, d in subject
	d.has_check_valve == true
	d.has_shutoff == true
}

verdict[id] := judge.not_required("one of the two valves is missing, which other rules report") if {
	some id, d in subject
	false in {d.has_check_valve, d.has_shutoff}
}
