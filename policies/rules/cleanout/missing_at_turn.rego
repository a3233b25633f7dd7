# METADATA
# title: No cleanout within reach of a turn
# description: A horizontal drain that turns sharply has a cleanout at the turn, or upstream within the reach that one cleanout may serve.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: turn
#   message: "{subject}: no cleanout stands at this turn of {fact:turn} or upstream within reach"
#   remedy: "Put a cleanout at the turn, or upstream within the reach allowed."
#   rationale: "Stoppages sit at turns, and a rod loses its force with every foot before it."
#   needs: []
#   tables: [cleanout.turn_over, cleanout.turn_covers]
#   status: stable
package rules.cleanout.missing_at_turn

import data.lib.judge

subject[n.id] := n if {
	some n in input.cleanout_needs
	n.reason == "direction_change"
}

verdict[id] := judge.is_true(n.has_cleanout) if {
	some id, n in subject
	n.has_cleanout == true
}

verdict[id] := judge.is_true(n.has_cleanout) if {
	some id, n in subject
	n.has_cleanout == false
	judge.at_most(n.turn, data.profile.cleanout.turn_over).outcome == "fail"
	out_of_reach(n)
}

verdict[id] := judge.not_required(excuse(n)) if {
	some id, n in subject
	n.has_cleanout == false
}

out_of_reach(n) if n.any_upstream == false

out_of_reach(n) if {
	judge.at_most(n.distance_to_cleanout, data.profile.cleanout.turn_covers).outcome == "fail"
}

excuse(n) := "the turn is slight" if {
	judge.at_most(n.turn, data.profile.cleanout.turn_over).outcome == "pass"
} else := "a cleanout upstream reaches it" if {
	n.any_upstream == true
	judge.at_most(n.distance_to_cleanout, data.profile.cleanout.turn_covers).outcome == "pass"
}
