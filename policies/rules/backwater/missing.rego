# METADATA
# title: Low fixtures without a backwater valve
# description: Where fixtures that drain by gravity stand below the cover of the next upstream manhole, a backwater valve protects them.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: building
#   quantity: count
#   message: "{fact:fixtures_below_manhole} fixtures stand below the next upstream manhole cover with {measured} backwater valves; {limit} or more is required"
#   remedy: "Put a backwater valve in the drain that serves only the low fixtures, or lift their drainage by a pump."
#   rationale: "When the sewer stops up, it rises to the manhole cover and comes out of every fixture that stands lower."
#   needs: [fixtures_below_manhole]
#   tables: []
#   status: stable
package rules.backwater.missing

import data.lib.judge

subject[b.id] := b if {
	b := input.building
	b.fixtures > 0
}

verdict[id] := judge.not_required("no fixture on gravity stands below the next upstream manhole cover") if {
	some id, b in subject
	b.fixtures_below_manhole == 0
}

verdict[id] := judge.at_least(b.backwater_valves, 1) if {
	some id, b in subject
	b.fixtures_below_manhole > 0
}
