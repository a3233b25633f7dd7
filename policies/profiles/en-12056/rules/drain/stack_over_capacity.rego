# METADATA
# title: Stack takes more flow than its size carries
# description: The design flow of a stack is within the figure for square entries; between that and the figure for swept entries a person looks at its branches.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: flow
#   message: "{subject}, a stack, has a design flow of {measured}; {limit} is the most for its size, even with swept entries"
#   remedy: "Make the stack larger, or give it a ventilating stack of its own and have it judged as such."
#   rationale: "The water of a full stack fills it to a plug that drives air out of one trap and sucks at the next."
#   needs: [building.fixture_use, design_flow, size]
#   tables: [stack.max_flow]
#   status: stable
package rules.drain.stack_over_capacity

import data.lib.judge

subject[d.id] := d if {
	some d in input.drains
	d.role == "stack"
}

by_entry[id][entry] := judge.at_most(d.design_flow, limit) if {
	some id, d in subject
	some entry, limit in data.profile.stack.max_flow[d.size]
}

verdict[id] := by_entry[id].square if by_entry[id].square.outcome == "pass"

verdict[id] := judge.person_decides("its design flow is more than a stack of its size carries with square entries, not more than with swept ones: see how the branches enter") if {
	by_entry[id].square.outcome == "fail"
	by_entry[id].swept.outcome == "pass"
}

verdict[id] := by_entry[id].swept if by_entry[id].swept.outcome == "fail"
