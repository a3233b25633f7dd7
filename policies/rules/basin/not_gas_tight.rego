# METADATA
# title: Basin cover not gas-tight
# description: The cover of a basin is gas-tight.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   message: "{subject} has a cover that is not gas-tight"
#   remedy: "Fit a cover with a gasket and sealed pipe and cord openings."
#   rationale: "Sewer gas is poisonous and can explode; the cover is all that keeps it out of the room."
#   needs: [gas_tight]
#   tables: []
#   status: stable
package rules.basin.not_gas_tight

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.is_true(b.gas_tight) if some id, b in subject
