# METADATA
# title: Pump stops too near the bottom
# description: The low water level of a sump is at least the stated height above its bottom.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: length
#   message: "{subject} is emptied to {measured} above its bottom; the pump must stop at {limit} or more"
#   remedy: "Raise the pump's stop."
#   rationale: "A pump that draws the sump dry sucks air and grit, overheats and loses its prime."
#   needs: [stop_level]
#   tables: [basin.low_water]
#   status: stable
package rules.basin.low_water_too_low

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_least(b.stop_level, data.profile.basin.low_water) if some id, b in subject
