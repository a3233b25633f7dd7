# METADATA
# title: Combination drain and vent carries too much load
# description: "The load on a combination drain and vent is within the figure for its size and role: one for a building drain, a smaller one for a branch or a stack."
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: combination drain and vent
#   quantity: load
#   message: "{subject}, a {fact:role}, carries {measured}; {limit} is the most for a combination drain and vent of its size"
#   remedy: "Make the drain larger, or vent some of its fixtures by themselves."
#   rationale: "A combination drain works only while it stays nearly empty."
#   needs: [load, size]
#   tables: [combination_vent.max_load_branch, combination_vent.max_load_building_drain]
#   status: stable
package rules.vent.combination_vent_overloaded

import data.lib.judge

of_kind contains w.id if {
	some w in input.wet_vents
	w.kind == "combination"
}

subject[d.id] := d if {
	some d in input.drains
	d.id in of_kind
}

verdict[id] := judge.at_most(d.load, limit) if {
	some id, d in subject
	d.role in {"building_drain", "building_sewer"}
	limit := data.profile.combination_vent.max_load_building_drain[d.size]
}

verdict[id] := judge.at_most(d.load, limit) if {
	some id, d in subject
	d.role in {"fixture_drain", "branch", "stack"}
	limit := data.profile.combination_vent.max_load_branch[d.size]
}
