# METADATA
# title: Air admittance valve below the flood-level rim
# description: A valve stands above the flood-level rim of every fixture it serves.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   quantity: length
#   message: "{subject} stands {measured} above the highest rim it serves; it must stand above it by {limit} or more"
#   remedy: "Raise the valve."
#   rationale: "A drain that stops up rises to the rim: a valve below it is flooded and stuck."
#   needs: [height_above_rim]
#   tables: [air_admittance.min_above_rim]
#   status: stable
package rules.air_admittance.below_rim

import data.lib.judge

subject[v.id] := v if some v in input.air_admittance_valves

verdict[id] := judge.at_least(v.height_above_rim, data.profile.air_admittance.min_above_rim) if some id, v in subject
