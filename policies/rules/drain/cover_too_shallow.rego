# METADATA
# title: Too little cover over a buried drain
# description: A drain in the ground has at least the cover stated for its role, or for every role. Where the jurisdiction states none, a person decides.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: drain
#   quantity: length
#   message: "{subject} has {measured} of cover; {limit} or more is required"
#   remedy: "Lay the drain deeper, or protect it as the authority accepts."
#   rationale: "A shallow pipe is crushed by loads, heaved by frost and hit by the next shovel."
#   needs: [buried, cover]
#   tables: ["drain.min_cover?", "drain.min_cover_by_role?"]
#   status: stable
package rules.drain.cover_too_shallow

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not p.buried == false
	judged(p.role)
}

judged(role) if data.profile.drain.min_cover_by_role[role]

judged(_) if not data.profile.drain.min_cover_by_role

verdict[id] := judge.at_least(p.cover, limit) if {
	some id, p in subject
	p.buried == true
	limit := data.profile.drain.min_cover_by_role[p.role]
}

verdict[id] := judge.at_least(p.cover, limit) if {
	some id, p in subject
	p.buried == true
	not data.profile.drain.min_cover_by_role
	limit := data.profile.drain.min_cover
}

verdict[id] := judge.person_decides("no least cover is stated here: see that the drain lies below frost and traffic loads") if {
	some id, p in subject
	p.buried == true
	not data.profile.drain.min_cover
	not data.profile.drain.min_cover_by_role
}
