# METADATA
# title: Wet vent carries too much load
# description: The load that drains through a wet vent is within the limit for its size.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: wet vent
#   quantity: load
#   message: "{subject} carries {measured}; {limit} is the most for a wet vent of its size"
#   remedy: "Make the wet vent larger, or vent some of its fixtures by themselves."
#   rationale: "A wet vent must keep air above its water: a pipe that runs full vents nothing."
#   needs: [load, size]
#   tables: [wet_vent.max_load]
#   status: stable
package rules.vent.wet_vent_overloaded

import data.lib.judge

subject[w.id] := w if {
	some w in input.wet_vents
	w.kind == "wet"
}

verdict[id] := judge.at_most(w.load, limit) if {
	some id, w in subject
	limit := data.profile.wet_vent.max_load[w.size]
}
