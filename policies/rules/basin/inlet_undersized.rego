# METADATA
# title: Basin inlet smaller than its drain
# description: The inlet of a basin is no smaller than the largest drain that empties into it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: size
#   message: "{subject} has an inlet of {measured}; drain {fact:largest_drain_id} is {limit}"
#   remedy: "Use an inlet hub of the size of the drain."
#   rationale: "Solids that pass the drain lodge in the smaller inlet."
#   needs: [inlet_dn, largest_drain_dn]
#   tables: []
#   status: stable
package rules.basin.inlet_undersized

import data.lib.judge

subject[b.id] := b if some b in input.basins

verdict[id] := judge.at_least(b.inlet_dn, b.largest_drain_dn) if some id, b in subject
