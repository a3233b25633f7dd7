# METADATA
# title: Vent narrows towards the open air
# description: A vent is no smaller than the largest vent that leads into its lower end.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: vent
#   quantity: size
#   message: "{subject} is {measured} above a vent of {limit} ({fact:largest_below_id}); it should not be smaller"
#   remedy: "Carry the larger size on to the terminal."
#   rationale: "All the air for the vents below comes through the pipe above them: the smallest part of the way decides how much."
#   needs: [dn, largest_below_dn]
#   tables: []
#   status: stable
package rules.vent.shrinks_towards_outlet

import data.lib.judge

subject[v.id] := v if {
	some v in input.vents
	v.has_vent_below == true
}

verdict[id] := judge.at_least(v.dn, v.largest_below_dn) if some id, v in subject
