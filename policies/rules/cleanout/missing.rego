# METADATA
# title: No cleanout where one is needed
# description: A cleanout stands at each upper end, stack base and exit from the building where the jurisdiction asks for one. Turns have a rule of their own.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: cleanout place
#   message: "{subject}: no cleanout serves this place ({fact:reason})"
#   remedy: "Put a cleanout there."
#   rationale: "A stoppage that no rod can reach means opening the floor."
#   needs: []
#   tables: [cleanout.upper_end, "cleanout.short_run?", "cleanout.short_run_never_for?", cleanout.stack_base, cleanout.building_exit]
#   status: stable
package rules.cleanout.missing

import data.lib.judge

subject[n.id] := n if {
	some n in input.cleanout_needs
	n.reason != "direction_change"
}

verdict[id] := judge.is_true(n.has_cleanout) if {
	some id, n in subject
	settled(n)
}

verdict[id] := judge.not_required(excuse(n)) if {
	some id, n in subject
	n.has_cleanout == false
}

settled(n) if n.has_cleanout == true

settled(n) if {
	data.profile.cleanout[n.reason] == true
	n.reason != "upper_end"
}

settled(n) if {
	data.profile.cleanout[n.reason] == true
	n.fixture_removable == false
	judge.at_most(n.length, short_run(n)).outcome == "fail"
}

excuse(n) := "no cleanout is asked for at such a place" if {
	data.profile.cleanout[n.reason] == false
} else := "the drain is rodded from the fixture or trap at its end" if {
	n.reason == "upper_end"
	n.fixture_removable == true
} else := "the drain is short" if {
	n.reason == "upper_end"
	judge.at_most(n.length, short_run(n)).outcome == "pass"
}

# A jurisdiction that exempts no short drain has no such table.
short_run(n) := 0 if {
	some kind in n.fixture_kinds
	kind in data.profile.cleanout.short_run_never_for
} else := object.get(data.profile.cleanout, "short_run", 0)
