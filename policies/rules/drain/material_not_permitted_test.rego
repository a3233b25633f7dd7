package rules.drain.material_not_permitted_test

import data.rules.drain.material_not_permitted

profile := {"material": {"underground": ["pvc_dwv", "cast_iron"], "above_ground": ["pvc_dwv", "steel_galvanized"]}}

given := {"id": "b1", "role": "branch", "lie": "horizontal", "size": "DN 80", "dn": 80, "slope": 20833, "fixtures": 2, "water_closets": 1, "material": "pvc_dwv", "buried": true}

test_pass_in_the_ground if outcome(given, profile) == "pass"

test_pass_above_ground if outcome(object.union(given, {"material": "steel_galvanized", "buried": false}), profile) == "pass"

test_fail_in_the_ground if outcome(object.union(given, {"material": "steel_galvanized"}), profile) == "fail"

test_fail_above_ground if outcome(object.union(given, {"material": "vitrified_clay", "buried": false}), profile) == "fail"

test_open_when_burial_is_not_stated if open(object.remove(given, ["buried"]), profile)

test_open_without_material if open(object.remove(given, ["material"]), profile)

test_open_without_table_below_ground if open(given, json.remove(profile, ["material/underground"]))

test_open_without_table_above_ground if open(object.union(given, {"buried": false}), json.remove(profile, ["material/above_ground"]))

test_not_subject_when_there_is_no_drain if count(material_not_permitted.subject) == 0 with input as {"drains": []}

outcome(d, p) := o if {
	o := material_not_permitted.verdict[d.id].outcome with input as {"drains": [d]} with data.profile as p
}

open(d, p) if {
	is_subject(d)
	not material_not_permitted.verdict[d.id] with input as {"drains": [d]} with data.profile as p
}

is_subject(d) if material_not_permitted.subject[d.id] with input as {"drains": [d]}
