# METADATA
# title: Vent that holds water
# description: A horizontal vent rises towards its terminal or runs level, so that what condenses in it drains back.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: vent
#   quantity: slope
#   message: "{subject} rises {measured} towards its terminal; it must not sag away from it"
#   remedy: "Grade the vent so that it drains back to the drain it serves."
#   rationale: "Water in a sagging vent closes it like a trap."
#   needs: [slope]
#   tables: []
#   status: stable
package rules.vent.holds_water

import data.lib.judge

subject[v.id] := v if {
	some v in input.vents
	not v.lie == "vertical"
	not v.lie == "sloped_45"
}

verdict[id] := judge.at_least(v.slope, 0) if some id, v in subject
