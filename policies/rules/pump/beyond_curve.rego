# METADATA
# title: Pump works beyond its stated curve
# description: The operating point lies on the stated part of the pump curve.
# schemas:
#   - input: schema.facts
# custom:
#   level: note
#   subject: pump
#   message: "{subject} works beyond the last stated point of its curve"
#   remedy: "Get the rest of the curve from the maker, or choose another pump."
#   rationale: "Out there the rate is a guess and the motor may be overloaded."
#   needs: [beyond_curve, may_exceed_curve]
#   tables: []
#   status: stable
package rules.pump.beyond_curve

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.is_false(p.beyond_curve) if {
	some id, p in subject
	p.beyond_curve == true
}

verdict[id] := judge.is_false(p.beyond_curve) if {
	some id, p in subject
	p.beyond_curve == false
	p.may_exceed_curve == false
}

verdict[id] := judge.person_decides("stays inside its curve as expected, but not at the favourable end: smooth pipe and a pump at the high end of its tolerance") if {
	some id, p in subject
	p.beyond_curve == false
	p.may_exceed_curve == true
}
