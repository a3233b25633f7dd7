# METADATA
# title: Sump too narrow for two pumps
# description: A sump with two pumps has at least the diameter stated for two.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   quantity: length
#   message: "{subject} is {measured} across and has {fact:pumps} pumps; {limit} or more is required"
#   remedy: "Use a wider sump."
#   rationale: "Two pumps side by side foul each other's floats and cannot be lifted out one at a time."
#   needs: [diameter]
#   tables: [basin.min_diameter_two_pumps]
#   status: stable
package rules.basin.too_small_for_two_pumps

import data.lib.judge

subject[b.id] := b if {
	some b in input.basins
	b.pumps > 1
}

verdict[id] := judge.at_least(b.diameter, data.profile.basin.min_diameter_two_pumps) if some id, b in subject
