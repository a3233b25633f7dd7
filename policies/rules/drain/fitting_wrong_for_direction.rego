# METADATA
# title: Fitting not allowed for this change of direction
# description: A fitting or bend turns the flow only in the directions its shape is allowed for. Small fixture drains, and where the profile says so large bends, have more choice.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: fitting
#   message: "{subject}, a {fact:kind}, turns the flow {measured}, which it may not do"
#   remedy: "Use a fitting of longer sweep: a wye with an eighth bend, a combination wye or a long sweep."
#   rationale: "A tight fitting throws solids against its far wall and stops rodding tools; laid flat, a sanitary tee sends waste both ways."
#   needs: [kind, changes, dn]
#   tables: [fitting.changes_allowed, "fitting.small_fixture_drain_max_size?", "fitting.small_changes_allowed?", "fitting.large_min_size?", "fitting.large_changes_allowed?"]
#   status: stable
package rules.drain.fitting_wrong_for_direction

import data.lib.judge

# A coupling, an end cap and a closet flange turn nothing. Codes have no row for
# a turn from vertical to vertical: it is none.
subject[f.id] := f if {
	some f in input.fittings
	not f.kind == "coupling"
	not f.kind == "end_cap"
	not f.kind == "closet_flange"
}

verdict[id] := judge.none(wrong) if {
	some id, f in subject
	row := data.profile.fitting.changes_allowed[f.kind]
	may := ({c | some c in row} | small(f)) | large(f)
	made := f.changes
	f.dn
	wrong := {c | some c in made; c != "vertical_to_vertical"; not c in may}
}

small(f) := {c | some c in data.profile.fitting.small_changes_allowed[f.kind]} if {
	f.fixture_drain == true
	f.dn <= data.profile.fitting.small_fixture_drain_max_size
} else := set()

large(f) := {c | some c in data.profile.fitting.large_changes_allowed[f.kind]} if {
	f.dn >= data.profile.fitting.large_min_size
} else := set()
