# METADATA
# title: Drain does not scour itself
# description: A horizontal drain reaches the velocity that carries solids at its design flow.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: drain
#   quantity: velocity
#   message: "{subject} flows {measured} at its design flow; {limit} or more keeps it clean"
#   remedy: "Increase the fall, or do not make the drain larger than it needs to be."
#   rationale: "Grit, clay and paper settle where the water is slow; the deposit hardens and the next one catches on it."
#   needs: [velocity]
#   tables: [drain.min_velocity]
#   status: stable
package rules.drain.below_scour_velocity

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not p.lie == "vertical"
	not p.lie == "sloped_45"
}

verdict[id] := judge.at_least_range(p.velocity_low, p.velocity, p.velocity_high, limit) if {
	some id, p in subject
	limit := data.profile.drain.min_velocity
}
