# METADATA
# title: Wet vent with the wrong fixtures, or in the wrong order
# description: Only the kinds of fixture that are allowed drain through a wet vent or rely on it, its dry vent comes from one of them, and no more water closets stand upstream than allowed.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: wet vent
#   message: "{subject}: {measured}, which is not allowed on a wet vent"
#   remedy: "Keep other fixtures off the wet vent, take its dry vent from a lavatory, bath or shower, and bring the water closet in last."
#   rationale: "A closet or a greasy sink upstream fills or fouls the pipe that the others breathe through."
#   needs: [first_vented]
#   tables: [wet_vent.fixture_kinds, "wet_vent.dry_vent_from?", "wet_vent.max_water_closets_upstream?"]
#   status: stable
package rules.vent.wet_vent_out_of_order

import data.lib.judge

subject[w.id] := w if {
	some w in input.wet_vents
	w.kind == "wet"
}

verdict[id] := judge.none(((strange | dry) | closets(w))) if {
	some id, w in subject
	allowed := data.profile.wet_vent.fixture_kinds
	from := w.first_vented
	kinds := w.fixture_kinds
	vented := w.vented_kinds
	strange := {concat("", ["a fixture of kind ", k]) | some k in array.concat(kinds, vented); not k in allowed}
	dry := {concat("", ["the dry vent from a ", k]) | some k in [from]; not k in dry_vent_from}
}

# Where the profile does not say so, any fixture allowed may bring the dry vent,
# and closets may stand upstream.
dry_vent_from := object.get(data.profile.wet_vent, "dry_vent_from", data.profile.wet_vent.fixture_kinds)

closets(w) := {"more water closets upstream than allowed"} if {
	judge.at_most(w.water_closets_upstream, data.profile.wet_vent.max_water_closets_upstream).outcome == "fail"
} else := set()
