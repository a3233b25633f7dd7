# METADATA
# title: Working level too near the inlet
# description: The highest level at which a pump starts stays below the inlet invert by the required distance.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: length
#   message: "{subject} fills to {measured} below its inlet invert; {limit} or more is required"
#   remedy: "Lower the highest start level or use a deeper basin."
#   rationale: "Sewage that stands in the inlet drain drops its solids there and stops it up."
#   needs: [start_below_inlet]
#   tables: [basin.level_below_inlet]
#   status: stable
package rules.basin.level_floods_inlet

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_least(b.start_below_inlet, data.profile.basin.level_below_inlet) if some id, b in subject
