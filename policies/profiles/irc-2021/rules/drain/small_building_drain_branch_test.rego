package rules.drain.small_building_drain_branch_test

import data.rules.drain.small_building_drain_branch

# Two waste fixtures: residential code table P3005.4.2, a note, from memory.
profile := {"building_drain": {"small_branch_max_fixtures": 2}}

given := {"id": "d1", "role": "branch", "to": "j1", "size": "DN 40", "fixtures": 1, "fixture_kinds": ["lavatory"]}

test_pass_one_lavatory if result({}) == "pass"

test_pass_one_kitchen_sink if result({"fixture_kinds": ["kitchen_sink"]}) == "pass"

test_fail_four if result({"fixtures": 4}) == "fail"

test_boundary_two if result({"fixtures": 2}) == "pass"

test_boundary_three if result({"fixtures": 3}) == "fail"

test_review_two_with_a_kitchen_sink if result({"fixtures": 2, "fixture_kinds": ["kitchen_sink", "lavatory"]}) == "review"

test_open_without_table if {
	small_building_drain_branch.subject.d1 with input as on_main(given)
	not small_building_drain_branch.verdict.d1 with input as on_main(given) with data.profile as {}
}

test_size_not_stated_is_subject if small_building_drain_branch.subject.d1 with input as on_main(object.remove(given, ["size"]))

test_not_subject_two_inch if not small_building_drain_branch.subject.d1 with input as on_main(object.union(given, {"size": "DN 50"}))

test_not_subject_on_a_stack if not small_building_drain_branch.subject.d1 with input as {"drains": [given, {"id": "s1", "from": "j1", "to": "j2", "role": "stack"}]}

test_not_subject_building_drain_itself if not small_building_drain_branch.subject.d1 with input as on_main(object.union(given, {"role": "building_drain"}))

test_pass_fixture_drain if small_building_drain_branch.verdict.d1.outcome == "pass" with input as on_main(object.union(given, {"role": "fixture_drain"})) with data.profile as profile

test_pass_on_a_building_sewer if small_building_drain_branch.verdict.d1.outcome == "pass" with input as {"drains": [given, {"id": "s1", "from": "j1", "to": "j2", "role": "building_sewer"}]} with data.profile as profile

test_review_two_with_a_dishwasher if small_building_drain_branch.verdict.d1.outcome == "review" with input as on_main(object.union(given, {"fixtures": 2, "fixture_kinds": ["lavatory", "dishwasher"]})) with data.profile as profile

test_review_two_with_a_clothes_washer if small_building_drain_branch.verdict.d1.outcome == "review" with input as on_main(object.union(given, {"fixtures": 2, "fixture_kinds": ["clothes_washer", "lavatory"]})) with data.profile as profile

test_fail_three_whatever_they_are if small_building_drain_branch.verdict.d1.outcome == "fail" with input as on_main(object.union(given, {"fixtures": 3, "fixture_kinds": ["kitchen_sink", "lavatory"]})) with data.profile as profile

on_main(d) := {"drains": [d, {"id": "m1", "from": "j1", "to": "c1", "role": "building_drain"}]}

result(facts) := o if {
	o := small_building_drain_branch.verdict.d1.outcome with input as on_main(object.union(given, facts)) with data.profile as profile
}
