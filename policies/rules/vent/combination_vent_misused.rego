# METADATA
# title: Combination drain and vent with the wrong fixtures
# description: Only fixtures that drain little and clean water use a combination drain and vent.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: combination drain and vent
#   message: "{subject} takes {measured}, which may not drain through it"
#   remedy: "Vent that fixture by itself and bring it to another drain."
#   rationale: "A combination drain works only while it stays nearly empty: a closet or a disposal fills and fouls it."
#   needs: []
#   tables: [combination_vent.fixture_kinds]
#   status: stable
package rules.vent.combination_vent_misused

import data.lib.judge

subject[w.id] := w if {
	some w in input.wet_vents
	w.kind == "combination"
}

verdict[id] := judge.none({k | some k in kinds; not k in allowed}) if {
	some id, w in subject
	kinds := w.fixture_kinds
	allowed := data.profile.combination_vent.fixture_kinds
}
