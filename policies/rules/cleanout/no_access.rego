# METADATA
# title: Cleanout that cannot be reached
# description: A cleanout can be reached without breaking anything.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: cleanout
#   message: "{subject} cannot be reached"
#   remedy: "Bring the cleanout to the floor, the wall or outdoors, with a cover that opens."
#   rationale: "A buried or tiled-over cleanout is found only when the floor is broken."
#   needs: [accessible]
#   tables: []
#   status: stable
package rules.cleanout.no_access

import data.lib.judge

subject[c.id] := c if some c in input.cleanouts

verdict[id] := judge.is_true(c.accessible) if some id, c in subject
