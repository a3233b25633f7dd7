# METADATA
# title: Pump cannot lift to its outlet
# description: The pump curve meets the curve of its line.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pump
#   message: "{subject} cannot lift against the head of its line"
#   remedy: "Use a pump with more head, or lower the lift and the friction."
#   rationale: "The pump runs, moves nothing, overheats and the basin overflows."
#   needs: [cannot_lift, may_not_lift]
#   tables: []
#   status: stable
package rules.pump.cannot_lift

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.is_false(p.cannot_lift) if {
	some id, p in subject
	p.cannot_lift == true
}

verdict[id] := judge.is_false(p.cannot_lift) if {
	some id, p in subject
	p.cannot_lift == false
	p.may_not_lift == false
}

verdict[id] := judge.person_decides("lifts as expected, but not at the unfavourable end: rough pipe and a pump at the low end of its tolerance") if {
	some id, p in subject
	p.cannot_lift == false
	p.may_not_lift == true
}
