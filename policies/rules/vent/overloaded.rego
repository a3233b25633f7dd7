# METADATA
# title: Vent serves more load than its size takes
# description: The load of the drains that a vent serves is within the limit for its size.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: vent
#   quantity: load
#   message: "{subject} serves {measured}; {limit} is the most for its size"
#   remedy: "Use a larger vent, or share the load between vents."
#   rationale: "The more fixtures run at once, the more air the drain draws; a small vent cannot bring it."
#   needs: [load, size]
#   tables: [vent.max_load]
#   status: stable
package rules.vent.overloaded

import data.lib.judge

subject[v.id] := v if {
	some v in input.vents
	v.serves_drains == true
}

verdict[id] := judge.at_most(v.load, limit) if {
	some id, v in subject
	limit := data.profile.vent.max_load[v.size]
}
