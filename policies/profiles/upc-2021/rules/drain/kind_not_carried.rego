# METADATA
# title: Fixture on a drain too small for its kind
# description: Past its trap arm a small drain carries none of the fixtures that its size excludes.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   message: "{subject}, past the trap arm, carries {measured}, which a drain of its size may not"
#   remedy: "Make the drain one size larger from the trap arm down."
#   rationale: "Grease and food close a small drain long before its load does."
#   needs: [size]
#   tables: ["drain.kinds_not_carried?"]
#   status: stable
package rules.drain.kind_not_carried

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not part_of_an_arm(p)
}

part_of_an_arm(p) if p.trap_arm_of

verdict[id] := judge.none({kind | some kind in p.fixture_kinds; kind in data.profile.drain.kinds_not_carried[p.size]}) if {
	some id, p in subject
	is_string(p.size)
}
