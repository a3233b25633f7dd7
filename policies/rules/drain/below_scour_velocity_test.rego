package rules.drain.below_scour_velocity_test

import data.lib.exact_test.exact
import data.rules.drain.below_scour_velocity

profile := {"drain": {"min_velocity": 610}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1, "velocity": 900}

test_pass_when_faster if outcome(given, profile) == "pass"

test_fail_when_slower if outcome(object.union(given, {"velocity": 400}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"velocity": 610}), profile) == "pass"

test_boundary_under_the_limit if outcome(object.union(given, {"velocity": 609}), profile) == "fail"

test_open_without_velocity if open(object.remove(given, ["velocity"]), profile)

test_open_without_table if open(given, json.remove(profile, ["drain/min_velocity"]))

# 0.7 m/s in a drain in the ground: DIN 1986-100, from memory.
by_role := {"drain": {"min_velocity_by_role": {"building_sewer": 700}}}

test_boundary_outside_the_building if {
	outcome(object.union(given, {"role": "building_sewer", "velocity": 700}), by_role) == "pass"
	outcome(object.union(given, {"role": "building_sewer", "velocity": 699}), by_role) == "fail"
}

test_not_subject_in_a_role_without_a_figure if not below_scour_velocity.subject[given.id] with input as {"drains": [given]} with data.profile as by_role

test_unknown_lie_is_a_subject if is_subject(object.remove(given, ["lie"]))

test_not_subject_when_vertical if not is_subject(object.union(given, {"lie": "vertical"}))

test_not_subject_at_45_degrees if not is_subject(object.union(given, {"lie": "sloped_45"}))

test_pass_by_the_figure_of_its_role_where_there_are_both if outcome(object.union(given, {"velocity": 400}), object.union(profile, {"drain": {"min_velocity_by_role": {"branch": 300}}})) == "pass"

outcome(d, p) := o if {
	o := below_scour_velocity.verdict[d.id].outcome with input as {"drains": [exact(d, ["velocity"])]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not below_scour_velocity.verdict[d.id] with input as {"drains": [exact(d, ["velocity"])]} with data.profile as p
}

is_subject(d) if below_scour_velocity.subject[d.id] with input as {"drains": [exact(d, ["velocity"])]}

test_review_when_a_rough_pipe_is_slower if outcome(object.union(given, {"velocity": 650, "velocity_low": 500}), profile) == "review"
