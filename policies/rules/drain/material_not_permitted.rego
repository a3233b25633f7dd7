# METADATA
# title: Material not permitted in this place
# description: "The material of a drain is one that is permitted where it lies: in the ground, or above it."
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   message: "{subject} is of {measured}; permitted there: {limit}"
#   remedy: "Use a material that is permitted in that place."
#   rationale: "Some materials rust or are crushed in the ground, and some do not stand heat or impact above it."
#   needs: [material, buried]
#   tables: [material.underground, material.above_ground]
#   status: stable
package rules.drain.material_not_permitted

import data.lib.judge

subject[p.id] := p if some p in input.drains

verdict[id] := judge.one_of(p.material, allowed) if {
	some id, p in subject
	p.buried == true
	allowed := data.profile.material.underground
}

verdict[id] := judge.one_of(p.material, allowed) if {
	some id, p in subject
	p.buried == false
	allowed := data.profile.material.above_ground
}
