# METADATA
# title: Too little space in front of a cleanout
# description: The free space in front of a cleanout lets a rod be worked.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: cleanout
#   quantity: length
#   message: "{subject} has {measured} of free space in front; {limit} or more is required"
#   remedy: "Move the cleanout, or extend it to where there is room to work."
#   rationale: "Without room for a rod or a machine the cleanout is of no use."
#   needs: [clearance, pipe_size]
#   tables: [cleanout.clearance]
#   status: stable
package rules.cleanout.no_clearance

import data.lib.judge

subject[c.id] := c if some c in input.cleanouts

verdict[id] := judge.at_least(c.clearance, limit) if {
	some id, c in subject
	limit := data.profile.cleanout.clearance[c.pipe_size]
}
