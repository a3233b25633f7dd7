# METADATA
# title: Low fixture whose drainage passes no backwater valve
# description: The drainage of each fixture that stands below the next upstream manhole cover and drains by gravity passes a backwater valve.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: fixture
#   message: "{subject} stands below the next upstream manhole cover and no backwater valve protects it"
#   remedy: "Bring the fixture to the drain behind the backwater valve, or pump it."
#   rationale: "A valve on another branch does not help: sewage comes out of the one low fixture that is left open."
#   needs: [below_manhole]
#   tables: []
#   status: stable
package rules.backwater.fixture_unprotected

import data.lib.judge

subject[f.id] := f if {
	some f in input.fixtures
	f.drains_to == "connection"
	not f.below_manhole == false
}

verdict[id] := judge.is_true(f.through_backwater_valve) if {
	some id, f in subject
	f.below_manhole == true
}
