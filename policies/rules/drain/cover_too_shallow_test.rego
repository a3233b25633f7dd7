package rules.drain.cover_too_shallow_test

import data.rules.drain.cover_too_shallow

profile := {"drain": {"min_cover": 304800}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1, "buried": true, "cover": 457200}

test_pass_when_deeper if outcome(given, profile) == "pass"

test_fail_when_shallower if outcome(object.union(given, {"cover": 152400}), profile) == "fail"

test_boundary_at_the_limit if outcome(object.union(given, {"cover": 304800}), profile) == "pass"

test_boundary_a_64th_under if outcome(object.union(given, {"cover": 304403}), profile) == "fail"

# 12 in over a building sewer: IAPMO plumbing code 718.3, from memory.
by_role := {"drain": {"min_cover_by_role": {"building_sewer": 304800}}}

test_boundary_at_the_limit_of_its_role if outcome(object.union(given, {"role": "building_sewer", "cover": 304800}), by_role) == "pass"

test_boundary_a_64th_under_the_limit_of_its_role if outcome(object.union(given, {"role": "building_sewer", "cover": 304403}), by_role) == "fail"

test_not_subject_in_a_role_without_a_figure if not is_subject_under(given, by_role)

test_review_without_table if outcome(given, json.remove(profile, ["drain/min_cover"])) == "review"

test_open_when_burial_is_not_stated if open(object.remove(given, ["buried"]), profile)

test_open_when_neither_burial_nor_a_table_is_stated if open(object.remove(given, ["buried"]), json.remove(profile, ["drain/min_cover"]))

test_open_without_cover if open(object.remove(given, ["cover"]), profile)

test_not_subject_above_ground if not is_subject(object.union(given, {"buried": false}))

test_pass_by_the_figure_of_its_role_where_there_are_both if outcome(object.union(given, {"cover": 200000}), object.union(profile, {"drain": {"min_cover_by_role": {"branch": 152400}}})) == "pass"

test_open_by_role_when_it_is_not_known_to_be_buried if open(object.remove(given, ["buried"]), {"drain": {"min_cover_by_role": {"branch": 152400}}})

outcome(d, p) := o if {
	o := cover_too_shallow.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not cover_too_shallow.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject_under(d, p) if cover_too_shallow.subject[d.id] with input as {"drains": [d]} with data.profile as p

is_subject(d) if cover_too_shallow.subject[d.id] with input as {"drains": [d]}
