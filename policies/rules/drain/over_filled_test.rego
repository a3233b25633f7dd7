package rules.drain.over_filled_test

import data.lib.exact_test.exact
import data.rules.drain.over_filled

profile := {"drain": {"max_filling": 500000}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1, "filling": 400000}

test_pass_under_the_limit if outcome(given, profile) == "pass"

test_fail_over_the_limit if outcome(object.union(given, {"filling": 700000}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"filling": 500000}), profile) == "pass"

test_boundary_over_the_limit if outcome(object.union(given, {"filling": 500011}), profile) == "fail"

test_open_without_filling if open(object.remove(given, ["filling"]), profile)

test_open_without_table if open(given, json.remove(profile, ["drain/max_filling"]))

# Half full inside, 0.7 full outside the building: EN 12056-2 4.2, from memory.
by_role := {"drain": {"max_filling_by_role": {"building_drain": 500000, "building_sewer": 700000}}}

test_boundary_inside_the_building if {
	outcome(object.union(given, {"role": "building_drain", "filling": 500000}), by_role) == "pass"
	outcome(object.union(given, {"role": "building_drain", "filling": 500011}), by_role) == "fail"
}

test_pass_outside_the_building if outcome(object.union(given, {"role": "building_sewer", "filling": 650000}), by_role) == "pass"

test_not_subject_in_a_role_without_a_figure if not over_filled.subject.b1 with input as {"drains": [given]} with data.profile as by_role

test_unknown_lie_is_a_subject if is_subject(object.remove(given, ["lie"]))

test_not_subject_when_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_not_subject_at_45_degrees if not is_subject(object.union(given, {"lie": "sloped_45"}))

test_pass_by_the_figure_of_its_role_where_there_are_both if outcome(object.union(given, {"filling": 600000}), object.union(profile, {"drain": {"max_filling_by_role": {"branch": 700000}}})) == "pass"

outcome(d, p) := o if {
	o := over_filled.verdict[d.id].outcome with input as {"drains": [exact(d, ["filling"])]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not over_filled.verdict[d.id] with input as {"drains": [exact(d, ["filling"])]} with data.profile as p
}

is_subject(d) if over_filled.subject[d.id] with input as {"drains": [exact(d, ["filling"])]}

test_review_when_a_rough_pipe_fills_further if outcome(object.union(given, {"filling": 450000, "filling_high": 550000}), profile) == "review"
