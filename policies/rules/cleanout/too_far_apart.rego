# METADATA
# title: Cleanouts too far apart
# description: The developed length between cleanouts of a horizontal drain is within the limit, by the size of the drain where the profile has it so.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: length
#   message: "{subject} runs {measured} without a cleanout; {limit} is the most"
#   remedy: "Add a cleanout so that no length is longer than the limit."
#   rationale: "A rod loses its force with length: a stoppage beyond its reach cannot be cleared."
#   needs: [length]
#   tables: [cleanout.max_spacing, "cleanout.max_spacing_by_size?"]
#   status: stable
package rules.cleanout.too_far_apart

import data.lib.judge

subject[r.id] := r if some r in input.cleanout_runs

verdict[id] := judge.at_most(r.length, limit) if {
	some id, r in subject
	limit := data.profile.cleanout.max_spacing_by_size[r.size]
}

verdict[id] := judge.at_most(r.length, limit) if {
	some id, r in subject
	not data.profile.cleanout.max_spacing_by_size
	limit := data.profile.cleanout.max_spacing
}
