# METADATA
# title: Pumped line joins too near the base of a stack
# description: A pumped line joins a horizontal drain at least the required distance from the base of a stack.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   quantity: length
#   message: "{subject} joins {measured} from the base of a stack; {limit} or more is required"
#   remedy: "Move the connection downstream."
#   rationale: "Below a stack the water piles up: pumped flow that meets it there shuts the pipe and blows traps."
#   needs: [receiver_lie, distance_from_stack_base, receiver_diameter]
#   tables: ["discharge.stack_base_distance?", "discharge.stack_base_distance_diameters?"]
#   status: stable
package rules.discharge.too_near_stack_base

import data.lib.judge

subject[d.id] := d if {
	some d in input.discharges
	not d.receiver_lie == "vertical"
}

verdict[id] := judge.at_least(d.distance_from_stack_base, limit(d)) if {
	some id, d in subject
	d.receiver_lie == "horizontal"
	d.no_stack_upstream == false
}

verdict[id] := judge.not_required("no stack stands upstream of it") if {
	some id, d in subject
	d.receiver_lie == "horizontal"
	d.no_stack_upstream == true
}

# A profile states a length, or a number of diameters of the receiving drain.
limit(d) := data.profile.discharge.stack_base_distance if {
	is_number(data.profile.discharge.stack_base_distance)
} else := data.profile.discharge.stack_base_distance_diameters * d.receiver_diameter
