# METADATA
# title: Basin too narrow
# description: A basin has at least the least inside diameter.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: length
#   message: "{subject} is {measured} across; {limit} or more is required"
#   remedy: "Use a wider basin."
#   rationale: "In a narrow pit floats catch on the wall or the pump, and nobody can lift the pump out."
#   needs: [diameter]
#   tables: [basin.min_diameter]
#   status: stable
package rules.basin.too_small

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_least(b.diameter, data.profile.basin.min_diameter) if some id, b in subject
