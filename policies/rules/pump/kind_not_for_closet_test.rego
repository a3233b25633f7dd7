package rules.pump.kind_not_for_closet_test

import data.rules.pump.kind_not_for_closet

given(facts) := {"pumps": [object.union({"id": "p1"}, facts)]}

test_pass_solids_handling if kind_not_for_closet.verdict.p1.outcome == "pass" with input as given({"water_closets": 1, "kind": "solids_handling"})

test_pass_grinder if kind_not_for_closet.verdict.p1.outcome == "pass" with input as given({"water_closets": 2, "kind": "grinder"})

test_fail_effluent if kind_not_for_closet.verdict.p1.outcome == "fail" with input as given({"water_closets": 1, "kind": "effluent"})

test_open_kind_missing if {
	kind_not_for_closet.subject.p1 with input as given({"water_closets": 1})
	not kind_not_for_closet.verdict.p1 with input as given({"water_closets": 1})
}

test_not_subject_no_closets if not kind_not_for_closet.subject.p1 with input as given({"water_closets": 0, "kind": "effluent"})

test_pass_macerating if kind_not_for_closet.verdict.p1.outcome == "pass" with input as {"pumps": [{"id": "p1", "water_closets": 1, "kind": "macerating"}]}
