# METADATA
# title: Drain carries more load than its size takes
# description: "The load on a drain is within the table for its role: building drain and sewer by size and slope, branch and fixture drain by size, stack by size, and by branch intervals where the profile has it so."
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: load
#   message: "{subject}, a {fact:role}, carries {measured}; {limit} is the most for it"
#   remedy: "Make the drain larger, give a building drain more fall, or take fixtures off it."
#   rationale: "A drain that runs too full pushes air ahead of it, breaks trap seals and backs up at the lowest fixture."
#   needs: [load, size]
#   tables: [building_drain.max_load, branch.max_load, "fixture_drain.max_load?", "stack.max_load?", "stack.max_load_few?", "stack.max_load_many?"]
#   status: stable
package rules.drain.overloaded

import data.lib.judge
import data.lib.table

subject[p.id] := p if some p in input.drains

verdict[id] := judge.at_most(p.load, limit(p)) if some id, p in subject

# A load that a short stack takes is within the figure of a tall one as well.
verdict[id] := fits if {
	some id, p in subject
	p.role == "stack"
	object.get(p, "branch_intervals", "not stated") == "not stated"
	fits := judge.at_most(p.load, data.profile.stack.max_load_few[p.size])
	fits.outcome == "pass"
}

limit(p) := table.at_or_below(data.profile.building_drain.max_load[p.size], p.slope) if {
	p.role in {"building_drain", "building_sewer"}
}

limit(p) := data.profile.branch.max_load[p.size] if p.role == "branch"

# A size too small for any branch may still do for one fixture.
limit(p) := data.profile.branch.max_load[p.size] if {
	p.role == "fixture_drain"
} else := data.profile.fixture_drain.max_load[p.size] if {
	p.role == "fixture_drain"
}

# Where the height of the stack makes no difference there is one figure.
limit(p) := data.profile.stack.max_load[p.size] if p.role == "stack"

limit(p) := data.profile.stack.max_load_few[p.size] if {
	p.role == "stack"
	p.branch_intervals <= 3
}

limit(p) := data.profile.stack.max_load_many[p.size] if {
	p.role == "stack"
	p.branch_intervals > 3
}
