# METADATA
# title: Drain does not scour itself
# description: A horizontal drain reaches the velocity that carries solids at its design flow, by its role where the profile has it so.
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
#   tables: ["drain.min_velocity?", "drain.min_velocity_by_role?"]
#   status: stable
package rules.drain.below_scour_velocity

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not p.lie == "vertical"
	not p.lie == "sloped_45"
	judged(p.role)
}

# A profile states one figure for all, or figures for some roles alone.
judged(role) if data.profile.drain.min_velocity_by_role[role]

judged(_) if not data.profile.drain.min_velocity_by_role

verdict[id] := judge.at_least_range(p.velocity_low, p.velocity, p.velocity_high, limit) if {
	some id, p in subject
	limit := limit_of(p)
}

limit_of(p) := data.profile.drain.min_velocity_by_role[p.role]

limit_of(_) := data.profile.drain.min_velocity if not data.profile.drain.min_velocity_by_role
