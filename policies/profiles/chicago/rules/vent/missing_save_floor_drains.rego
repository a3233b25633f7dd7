# METADATA
# title: Trap without a vent, far floor drains apart
# description: Every trap is protected by a vent, by a method the jurisdiction accepts. A basement floor drain that joins the house drain far enough from any stack needs none; a person measures that.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: fixture
#   message: "{subject}: the vent method of its trap is {measured}; accepted are {limit}"
#   remedy: "Bring a vent to the trap arm by a method that is accepted."
#   rationale: "Without air behind it a discharge pulls the water out of the trap, and sewer gas follows into the room."
#   needs: [trap_type, vent_ends_at]
#   tables: [vent.accepted_methods]
#   status: stable
package rules.vent.missing_save_floor_drains

import data.lib.judge

subject[f.id] := f if {
	some f in input.fixtures
	f.indirect == false
	not f.trap_type == "none"
}

verdict[id] := judge.one_of(f.vent_method, data.profile.vent.accepted_methods) if {
	some id, f in subject
	not maybe_exempt(f)
	airy(f)
}

# A vent that leads nowhere brings no more air than none.
verdict[id] := judge.one_of("a vent that leads nowhere", data.profile.vent.accepted_methods) if {
	some id, f in subject
	f.kind != "floor_drain"
	f.vent_ends_at == "nothing"
}

verdict[id] := judge.person_decides("no vent reaches it; a basement floor drain that joins the house drain far enough from any stack needs none: measure that distance") if {
	some id, f in subject
	maybe_exempt(f)
}

maybe_exempt(f) if {
	f.kind == "floor_drain"
	f.vent_method == "none"
}

maybe_exempt(f) if {
	f.kind == "floor_drain"
	f.vent_ends_at == "nothing"
}

airy(f) if f.vent_method == "none"

airy(f) if {
	f.vent_method != "none"
	f.vent_ends_at != "nothing"
}
