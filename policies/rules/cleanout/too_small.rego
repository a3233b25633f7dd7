# METADATA
# title: Cleanout too small
# description: A cleanout is at least the size the drain it serves needs.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: cleanout
#   quantity: size
#   message: "{subject} is {measured}; {limit} or larger is required for its drain"
#   remedy: "Fit a cleanout of the size required."
#   rationale: "A tool that fits through a small opening is too small to clear the pipe behind it."
#   needs: [dn, pipe_size]
#   tables: [cleanout.min_size]
#   status: stable
package rules.cleanout.too_small

import data.lib.judge

subject[c.id] := c if some c in input.cleanouts

verdict[id] := judge.at_least(c.dn, limit) if {
	some id, c in subject
	limit := data.profile.cleanout.min_size[c.pipe_size]
}
