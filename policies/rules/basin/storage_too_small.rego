# METADATA
# title: Too little storage above the alarm
# description: A basin holds the required volume between alarm and inlet.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: volume
#   message: "{subject} holds {measured} between alarm and inlet; {limit} or more is required"
#   remedy: "Lower the alarm or use a larger basin."
#   rationale: "When the power fails, this volume is all there is before the floor floods."
#   needs: [reserve]
#   tables: [basin.min_storage]
#   status: stable
package rules.basin.storage_too_small

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_least(b.reserve, data.profile.basin.min_storage) if some id, b in subject
