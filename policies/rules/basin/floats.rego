# METADATA
# title: Basin can float
# description: The weight that holds a basin down exceeds its uplift, empty and in high ground water, by the required factor.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: basin
#   quantity: factor
#   message: "{subject} is held down by {measured} times its uplift; {limit} or more is required"
#   remedy: "Add ballast or a concrete collar, or keep the ground water down."
#   rationale: "An empty basin in wet ground rises like a boat and breaks its pipes."
#   needs: [flotation_factor]
#   tables: [basin.min_flotation_factor]
#   status: stable
package rules.basin.floats

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_least(b.flotation_factor, data.profile.basin.min_flotation_factor) if some id, b in subject
