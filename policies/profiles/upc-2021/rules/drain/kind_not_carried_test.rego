package rules.drain.kind_not_carried_test

import data.rules.drain.kind_not_carried

# 1-1/2 in: IAPMO plumbing code table 703.2, a note, from memory.
profile := {"drain": {"kinds_not_carried": {"DN 40": ["kitchen_sink", "urinal"]}}}

given := {"id": "d1", "size": "DN 40", "fixture_kinds": ["lavatory"]}

test_pass_lavatory if outcome(given, profile) == "pass"

test_pass_sink_on_a_larger_drain if outcome(object.union(given, {"size": "DN 50", "fixture_kinds": ["kitchen_sink"]}), profile) == "pass"

test_fail_kitchen_sink if outcome(object.union(given, {"fixture_kinds": ["kitchen_sink", "lavatory"]}), profile) == "fail"

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_not_subject_trap_arm if not is_subject(object.union(given, {"trap_arm_of": "f1"}))

outcome(d, p) := o if {
	o := kind_not_carried.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	kind_not_carried.subject[d.id] with input as {"drains": [d]} with data.profile as p
	not kind_not_carried.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if kind_not_carried.subject[d.id] with input as {"drains": [d]} with data.profile as profile
