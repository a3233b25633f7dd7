# METADATA
# title: Basin cover not fastened
# description: The cover of a basin is bolted or otherwise fastened.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   message: "{subject} has a cover that is not fastened"
#   remedy: "Bolt the cover down on its gasket."
#   rationale: "A loose cover lifts with the first surge, leaks gas, and a child can move it."
#   needs: [fastened]
#   tables: []
#   status: stable
package rules.basin.not_fastened

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.is_true(b.fastened) if some id, b in subject
