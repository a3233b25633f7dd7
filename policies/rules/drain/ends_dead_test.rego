package rules.drain.ends_dead_test

import data.rules.drain.ends_dead

profile := {}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1, "dead_end": false}

test_pass_when_something_drains_in if outcome(given, profile) == "pass"

test_fail_at_a_dead_end if outcome(object.union(given, {"dead_end": true}), profile) == "fail"

test_open_without_the_fact if open(object.remove(given, ["dead_end"]), profile)

test_not_subject_when_there_is_no_drain if count(ends_dead.subject) == 0 with input as {"drains": []}

outcome(d, p) := o if {
	o := ends_dead.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not ends_dead.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if ends_dead.subject[d.id] with input as {"drains": [d]}
