package rules.discharge.material_not_permitted_test

import data.rules.discharge.material_not_permitted

profile := {"discharge": {"materials": ["pvc_sch40", "copper_l"]}}

given(facts) := {"discharges": [object.union({"id": "d1"}, facts)]}

test_pass_pressure_pipe if material_not_permitted.verdict.d1.outcome == "pass" with input as given({"materials": ["pvc_sch40"]}) with data.profile as profile

test_fail_clay if material_not_permitted.verdict.d1.outcome == "fail" with input as given({"materials": ["pvc_sch40", "vitrified_clay"]}) with data.profile as profile

test_open_materials_missing if {
	material_not_permitted.subject.d1 with input as given({}) with data.profile as profile
	not material_not_permitted.verdict.d1 with input as given({}) with data.profile as profile
}

test_open_table_missing if {
	material_not_permitted.subject.d1 with input as given({"materials": ["pvc_sch40"]}) with data.profile as {}
	not material_not_permitted.verdict.d1 with input as given({"materials": ["pvc_sch40"]}) with data.profile as {}
}

test_not_subject_fixture if count(material_not_permitted.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}
