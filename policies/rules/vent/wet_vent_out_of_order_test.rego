package rules.vent.wet_vent_out_of_order_test

import data.rules.vent.wet_vent_out_of_order

profile := {"wet_vent": {"fixture_kinds": ["water_closet", "lavatory", "shower", "bathtub", "bidet"], "dry_vent_from": ["lavatory", "shower", "bathtub", "bidet"], "max_water_closets_upstream": 0}}

given := {"id": "b4", "kind": "wet", "size": "DN 50", "dn": 50, "load": 3000, "lie": "horizontal", "fixture_kinds": ["lavatory", "shower"], "fixtures": 2, "water_closets_upstream": 0, "first_vented": "lavatory", "vented_fixtures": ["f3"], "vented_kinds": ["water_closet"]}

test_pass_bathroom if outcome(given, profile) == "pass"

test_fail_with_a_kitchen_sink if outcome(object.union(given, {"fixture_kinds": ["kitchen_sink", "lavatory"]}), profile) == "fail"

test_fail_a_mop_sink_relies_on_it if outcome(object.union(given, {"vented_kinds": ["mop_sink"]}), profile) == "fail"

test_open_without_vented_kinds if open(object.remove(given, ["vented_kinds"]), profile)

test_fail_dry_vent_from_water_closet if outcome(object.union(given, {"first_vented": "water_closet"}), profile) == "fail"

test_boundary_no_closet_upstream if outcome(object.union(given, {"water_closets_upstream": 0}), profile) == "pass"

test_boundary_one_closet_upstream if outcome(object.union(given, {"water_closets_upstream": 1}), profile) == "fail"

test_pass_closet_upstream_where_allowed if outcome(object.union(given, {"water_closets_upstream": 1}), object.union(profile, {"wet_vent": {"max_water_closets_upstream": 9007199254740991}})) == "pass"

test_open_without_dry_vent if open(object.remove(given, ["first_vented"]), profile)

test_open_without_kinds_table if open(given, json.remove(profile, ["wet_vent/fixture_kinds"]))

test_pass_dry_vent_from_water_closet_where_allowed if outcome(object.union(given, {"first_vented": "water_closet"}), json.remove(profile, ["wet_vent/dry_vent_from"])) == "pass"

test_fail_dry_vent_from_kitchen_sink if outcome(object.union(given, {"first_vented": "kitchen_sink"}), json.remove(profile, ["wet_vent/dry_vent_from"])) == "fail"

test_pass_closet_upstream_where_no_figure_is_stated if outcome(object.union(given, {"water_closets_upstream": 2}), json.remove(profile, ["wet_vent/max_water_closets_upstream"])) == "pass"

test_not_subject_when_combination if not is_subject(object.union(given, {"kind": "combination"}))

outcome(d, p) := o if {
	o := wet_vent_out_of_order.verdict[d.id].outcome with input as {"wet_vents": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not wet_vent_out_of_order.verdict[d.id] with input as {"wet_vents": [d]} with data.profile as p
}

is_subject(d) if wet_vent_out_of_order.subject[d.id] with input as {"wet_vents": [d]}
