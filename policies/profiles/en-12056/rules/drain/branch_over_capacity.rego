# METADATA
# title: Branch takes more flow than its size carries
# description: The design flow of a branch is within the figure of an unvented branch of its size; between that and the figure of a vented one a person looks for its vent.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: flow
#   message: "{subject}, a {fact:role}, has a design flow of {measured}; {limit} is the most for a branch of its size, even with a vent"
#   remedy: "Make the branch larger."
#   rationale: "A branch that runs full sucks its own traps dry."
#   needs: [building.fixture_use, design_flow, size]
#   tables: [branch.max_flow, "branch.max_flow_vented?"]
#   status: stable
package rules.drain.branch_over_capacity

import data.lib.judge

subject[d.id] := d if {
	some d in input.drains
	d.role in {"branch", "fixture_drain"}
	not d.lie == "vertical"
}

unvented[id] := judge.at_most(d.design_flow, data.profile.branch.max_flow[d.size]) if some id, d in subject

vented[id] := judge.at_most(d.design_flow, data.profile.branch.max_flow_vented[d.size]) if some id, d in subject

verdict[id] := answer if {
	some id, answer in unvented
	answer.outcome == "pass"
}

verdict[id] := judge.person_decides("its design flow is more than an unvented branch of its size carries, not more than a vented one does: see whether a vent reaches it") if {
	unvented[id].outcome == "fail"
	vented[id].outcome == "pass"
}

verdict[id] := vented[id] if {
	unvented[id].outcome == "fail"
	vented[id].outcome == "fail"
}

# A size without a vented figure has the unvented one alone.
verdict[id] := unvented[id] if {
	unvented[id].outcome == "fail"
	not vented[id]
}
