package rules.drain.too_flat_test

import data.rules.drain.too_flat

profile := {"drain": {"min_slope": {"DN 50": 20833, "DN 80": 10417}}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1}

test_pass_when_steeper if outcome(given, profile) == "pass"

test_fail_when_flatter if outcome(object.union(given, {"slope": 5208}), profile) == "fail"

test_not_subject_when_back_pitched if not is_subject(object.union(given, {"slope": -20833}))

test_not_subject_when_level if not is_subject(object.union(given, {"slope": 0}))

test_unknown_slope_is_a_subject if is_subject(object.remove(given, ["slope"]))

test_fail_small_pipe_at_the_slope_of_a_larger if outcome(object.union(given, {"size": "DN 50", "slope": 10417}), profile) == "fail"

# 1/8 in/ft for 3 in pipe: ICC plumbing code table 704.1, from memory; the rounding of a slope is forgiven.
test_boundary_at_the_limit if outcome(object.union(given, {"slope": 10417}), profile) == "pass"

test_boundary_under_the_limit if outcome(object.union(given, {"slope": 10415}), profile) == "fail"

test_open_without_slope if open(object.remove(given, ["slope"]), profile)

test_open_without_size if open(object.remove(given, ["size"]), profile)

test_open_without_table_entry if open(given, json.remove(profile, ["drain/min_slope/DN 80"]))

test_unknown_lie_is_a_subject if is_subject(object.remove(given, ["lie"]))

test_not_subject_when_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_not_subject_at_45_degrees if not is_subject(object.union(given, {"lie": "sloped_45"}))

test_subject_when_it_falls_at_all if is_subject(object.union(given, {"slope": 1}))

outcome(d, p) := o if {
	o := too_flat.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not too_flat.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if too_flat.subject[d.id] with input as {"drains": [d]}
