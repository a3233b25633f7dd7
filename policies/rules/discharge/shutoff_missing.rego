# METADATA
# title: No shutoff valve in a pumped line
# description: A pumped line has a full-open shutoff valve after its check valve, except in the uses of building that the profile exempts.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} has no shutoff valve"
#   remedy: "Fit a full-open valve after the check valve."
#   rationale: "Without it nobody can open the check valve or lift the pump out while the line above is full of sewage."
#   needs: [has_shutoff]
#   tables: [discharge.check_only_uses]
#   status: stable
package rules.discharge.shutoff_missing

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.is_true(d.has_shutoff) if {
	some id, d in subject
	d.has_shutoff == true
}

verdict[id] := judge.is_true(d.has_shutoff) if {
	some id, d in subject
	d.has_shutoff == false
	use := d.building_use
	not use in data.profile.discharge.check_only_uses
}

verdict[id] := judge.not_required("only the check valve is required in this use of building") if {
	some id, d in subject
	d.has_shutoff == false
	d.building_use in data.profile.discharge.check_only_uses
}
