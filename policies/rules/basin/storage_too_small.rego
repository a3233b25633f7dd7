# METADATA
# title: Too little storage above the alarm
# description: Between alarm and inlet a basin holds what flows in at the mean rate for as long as required.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: duration
#   message: "{subject} holds {fact:reserve} between alarm and inlet, the mean inflow of {measured}; that of {limit} or more is required"
#   remedy: "Lower the alarm or use a larger basin."
#   rationale: "When the power fails, this volume is all there is before the floor floods."
#   needs: [reserve_time]
#   tables: [basin.min_reserve_time]
#   status: stable
package rules.basin.storage_too_small

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_least(b.reserve_time, data.profile.basin.min_reserve_time) if some id, b in subject
