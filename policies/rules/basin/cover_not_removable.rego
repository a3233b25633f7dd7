# METADATA
# title: Basin cover cannot be taken off
# description: The cover of a basin can be taken off for service.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   message: "{subject} has a cover that cannot be taken off"
#   remedy: "Fit a removable cover."
#   rationale: "A pump fails sooner or later; a cast-in cover must then be broken out."
#   needs: [removable]
#   tables: []
#   status: stable
package rules.basin.cover_not_removable

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.is_true(b.removable) if some id, b in subject
