# METADATA
# title: Pumped line overloads the drain that receives it
# description: The receiving drain carries its own load and the pumped flow.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   quantity: load
#   message: "{subject} brings its receiving drain to {measured}; it may carry {limit}"
#   remedy: "Use a slower pump, or lead the line to a larger drain."
#   rationale: "The drain runs full when the pump starts, and the lowest fixture overflows."
#   needs: [receiver_kind, receiver_size, total_load]
#   tables: [building_drain.max_load, branch.max_load, "stack.max_load?", "stack.max_load_few?", "stack.max_load_many?"]
#   status: stable
package rules.discharge.overloads_receiver

import data.lib.judge
import data.lib.table

# Branch intervals of a low stack.
few := {0, 1, 2, 3}

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.at_most_range(d.total_load_low, d.total_load, d.total_load_high, limit) if {
	some id, d in subject
	d.receiver_kind in {"building_drain", "building_sewer"}
	limit := table.at_or_below(data.profile.building_drain.max_load[d.receiver_size], d.receiver_slope)
}

verdict[id] := judge.at_most_range(d.total_load_low, d.total_load, d.total_load_high, data.profile.branch.max_load[d.receiver_size]) if {
	some id, d in subject
	d.receiver_kind == "branch"
}

# Where the height of the stack makes no difference there is one figure.
verdict[id] := judge.at_most_range(d.total_load_low, d.total_load, d.total_load_high, data.profile.stack.max_load[d.receiver_size]) if {
	some id, d in subject
	d.receiver_kind == "stack"
}

verdict[id] := judge.at_most_range(d.total_load_low, d.total_load, d.total_load_high, data.profile.stack.max_load_few[d.receiver_size]) if {
	some id, d in subject
	d.receiver_kind == "stack"
	d.receiver_branch_intervals in few
}

verdict[id] := judge.at_most_range(d.total_load_low, d.total_load, d.total_load_high, data.profile.stack.max_load_many[d.receiver_size]) if {
	some id, d in subject
	d.receiver_kind == "stack"
	intervals := d.receiver_branch_intervals
	not intervals in few
}
