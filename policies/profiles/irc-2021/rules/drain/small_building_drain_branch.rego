# METADATA
# title: Small branch of a building drain with too many fixtures
# description: A 1-1/2 in branch that joins the building drain carries two waste fixtures at most, or one that is pumped or has a grinder.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: count
#   message: "{subject} is 1-1/2 in, joins the building drain and carries {measured} fixtures; {limit} is the most"
#   remedy: "Make the branch 2 in."
#   rationale: "A thin branch under the floor is the first to stop up and the last to be reached."
#   needs: [size]
#   tables: [building_drain.small_branch_max_fixtures]
#   status: stable
package rules.drain.small_building_drain_branch

import data.lib.judge

building_drains contains d.from if {
	some d in input.drains
	d.role in {"building_drain", "building_sewer"}
}

subject[d.id] := d if {
	some d in input.drains
	d.role in {"branch", "fixture_drain"}
	d.to in building_drains
	not other_size(d)
}

other_size(d) if d.size != "DN 40"

# Fixtures that are pumped or may have a grinder.
one_alone := {"kitchen_sink", "dishwasher", "clothes_washer"}

verdict[id] := judge.at_most(d.fixtures, limit) if {
	some id, d in subject
	limit := data.profile.building_drain.small_branch_max_fixtures
	not doubtful(d, limit)
}

verdict[id] := judge.person_decides("a fixture on it may be pumped or have a food waste grinder: then it is the only one allowed") if {
	some id, d in subject
	doubtful(d, data.profile.building_drain.small_branch_max_fixtures)
}

doubtful(d, limit) if {
	d.fixtures > 1
	d.fixtures <= limit
	some kind in d.fixture_kinds
	kind in one_alone
}
