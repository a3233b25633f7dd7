# METADATA
# title: Drain arrives below the basin inlet
# description: The lowest drain that reaches a basin arrives at or above its inlet invert.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: length
#   message: "{subject} has its inlet above what its drain reaches: the drain arrives {measured} from the inlet invert, {limit} or more is required"
#   remedy: "Lower the inlet, set the basin deeper, or raise the drain."
#   rationale: "The drain cannot rise to the hole: on site it is bent up or laid backwards, and sewage stands in it."
#   needs: [drain_height]
#   tables: []
#   status: stable
package rules.basin.inlet_mismatch

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_least(b.drain_height, 0) if some id, b in subject
