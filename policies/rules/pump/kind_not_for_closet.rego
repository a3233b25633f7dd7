# METADATA
# title: Pump not made for water closets
# description: A pump that takes water closets is of a kind made for sewage.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pump
#   message: "{subject} is of kind {measured} and takes {fact:water_closets} water closets; use {limit}"
#   remedy: "Use a solids-handling or grinder pump."
#   rationale: "An effluent pump clogs on the first paper and wipes."
#   needs: [kind]
#   tables: []
#   status: stable
package rules.pump.kind_not_for_closet

import data.lib.judge

subject[p.id] := p if {
	some p in input.pumps
	p.water_closets != 0
}

verdict[id] := judge.one_of(p.kind, ["grinder", "macerating", "solids_handling"]) if some id, p in subject
