# METADATA
# title: Trap without a vent
# description: Every trap is protected by a vent that leads to air, by a method the jurisdiction accepts.
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
package rules.vent.missing

import data.lib.judge

subject[f.id] := f if {
	some f in input.fixtures
	f.indirect == false
	not f.trap_type == "none"
}

verdict[id] := judge.one_of(f.vent_method, accepted) if {
	some id, f in subject
	f.vent_method != "none"
	f.vent_ends_at != "nothing"
	accepted := data.profile.vent.accepted_methods
}

# No vent at all is wrong whatever the methods accepted.
verdict[id] := judge.one_of(f.vent_method, accepted) if {
	some id, f in subject
	f.vent_method == "none"
	accepted := object.get(data.profile, ["vent", "accepted_methods"], [])
}

# A vent that leads nowhere brings no more air than none.
verdict[id] := judge.one_of(closed(accepted), accepted) if {
	some id, f in subject
	f.vent_method != "none"
	f.vent_ends_at == "nothing"
	accepted := object.get(data.profile, ["vent", "accepted_methods"], [])
}

closed(accepted) := "none" if "none" in accepted

closed(accepted) := "a vent that leads nowhere" if not "none" in accepted
