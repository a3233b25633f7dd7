# METADATA
# title: Basin out of reach
# description: A basin can be reached.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   message: "{subject} cannot be reached"
#   remedy: "Keep the space above and around the cover free, or provide access."
#   rationale: "A pump that cannot be reached is not serviced, and a blocked one floods the floor."
#   needs: [accessible]
#   tables: []
#   status: stable
package rules.basin.no_access

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.is_true(b.accessible) if some id, b in subject
