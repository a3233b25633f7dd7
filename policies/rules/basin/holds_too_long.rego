# METADATA
# title: Sewage stays too long in the basin
# description: At mean inflow a basin is emptied within the longest holding time.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: basin
#   quantity: duration
#   message: "{subject} holds sewage for {measured} between runs; at most {limit}"
#   remedy: "Lower the start level or use a smaller basin."
#   rationale: "Sewage that stands turns foul: it smells, eats concrete and metal, and gives off poisonous gas."
#   needs: [hold_time]
#   tables: [basin.max_hold_time]
#   status: stable
package rules.basin.holds_too_long

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_most(b.hold_time, data.profile.basin.max_hold_time) if some id, b in subject
