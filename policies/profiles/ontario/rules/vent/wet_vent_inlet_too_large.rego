# METADATA
# title: Drain into a wet vent too large
# description: A trap arm or fixture drain into a wet vent is within the size allowed, water closets and emergency floor drains apart.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: wet vent
#   quantity: size
#   message: "{subject} takes a drain of {measured}; {limit} is the largest that may enter a wet vent, water closets apart"
#   remedy: "Vent that fixture by itself."
#   rationale: "A large drain fills the wet vent and takes the air from the fixtures that rely on it."
#   needs: [vented_fixtures]
#   tables: [wet_vent.max_inlet_size]
#   status: stable
package rules.vent.wet_vent_inlet_too_large

import data.lib.judge

subject[w.id] := w if {
	some w in input.wet_vents
	w.kind == "wet"
}

# By id: to look through all fixtures for each wet vent takes minutes in a large design.
fixture[f.id] := f if some f in input.fixtures

counted[w.id] contains id if {
	some w in subject
	some id in w.vented_fixtures
	f := fixture[id]
	not set_apart(f)
}

set_apart(f) if f.kind == "water_closet"

# A floor drain without load is for emergencies.
set_apart(f) if {
	f.kind == "floor_drain"
	f.load == 0
}

sizes[id] := [fixture[vented].drain_dn | some vented in counted[id]] if some id, _ in subject

verdict[id] := judge.at_most(max(dns), data.profile.wet_vent.max_inlet_size) if {
	some id, dns in sizes
	count(dns) == count(counted[id])
}

verdict[id] := judge.not_required("only water closets or emergency floor drains rely on it") if {
	some id, _ in subject
	not counted[id]
}
