# METADATA
# title: Material not permitted for a pumped line
# description: A pumped line is made of materials permitted under pressure.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} is made of {measured}, which is not permitted for pumped lines"
#   remedy: "Use a permitted material."
#   rationale: "A pipe that is not made for pressure or for sewage leaks where nobody sees it."
#   needs: [materials]
#   tables: [discharge.materials]
#   status: stable
package rules.discharge.material_not_permitted

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.none([m | some m in materials; not m in permitted]) if {
	some id, d in subject
	materials := d.materials
	permitted := data.profile.discharge.materials
}
