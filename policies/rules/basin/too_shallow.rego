# METADATA
# title: Basin too shallow
# description: A basin is at least as deep as required.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: length
#   message: "{subject} is {measured} deep; {limit} or more is required"
#   remedy: "Use a deeper basin."
#   rationale: "A shallow pit leaves no room between stop, start and alarm: the pump starts too often or the inlet floods."
#   needs: [depth]
#   tables: [basin.min_depth]
#   status: stable
package rules.basin.too_shallow

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_least(b.depth, data.profile.basin.min_depth) if some id, b in subject
