# METADATA
# title: Branch joins too near the foot of a stack
# description: A horizontal branch joins the drain below a stack at least the required distance from its foot, where the stack carries much or serves two storeys.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: length
#   message: "{subject} joins {measured} from the foot of a stack; {limit} or more is required"
#   remedy: "Join farther downstream, or bring the branch to the stack above its foot."
#   rationale: "At the foot of a stack the falling water piles up and shuts the pipe: a branch there is blown back into its fixtures."
#   needs: [distance_from_stack_base]
#   tables: [stack.base_distance, stack.base_distance_min_load]
#   status: stable
package rules.drain.joins_near_stack_foot

import data.lib.judge

subject[d.id] := d if {
	some d in input.drains
	d.joins_below_stack == true
}

answer[id] := judge.at_least(d.distance_from_stack_base, data.profile.stack.base_distance) if some id, d in subject

verdict[id] := a if {
	some id, a in answer
	a.outcome == "pass"
}

verdict[id] := a if {
	some id, a in answer
	a.outcome == "fail"
	heavy(subject[id])
}

# What the joined drain carries is at least what the stack brings.
verdict[id] := judge.not_required("the stack carries little and the building has one storey") if {
	some id, a in answer
	a.outcome == "fail"
	light(subject[id])
	input.building.storeys == 1
}

verdict[id] := judge.person_decides("it joins near the foot of a stack that carries little: see whether fixtures on two storeys drain to that stack") if {
	some id, a in answer
	a.outcome == "fail"
	light(subject[id])
	not one_storey
}

one_storey if input.building.storeys == 1

heavy(d) if d.joined_load >= data.profile.stack.base_distance_min_load

light(d) if d.joined_load < data.profile.stack.base_distance_min_load
