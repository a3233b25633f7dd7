package rules.pump.rate_too_low_test

import data.lib.exact_test.exact
import data.rules.pump.rate_too_low

# 21 gpm in a 2 in pipe: ICC plumbing code table 712.4.2, from memory.
profile := {"pump": {"min_rate": {"DN 50": 1325}}}

given(facts) := {"pumps": [object.union({"id": "p1"}, exact(facts, ["rate"]))]}

test_pass_strong if rate_too_low.verdict.p1.outcome == "pass" with input as given({"kind": "solids_handling", "discharge_size": "DN 50", "rate": 2000}) with data.profile as profile

test_pass_grinder if rate_too_low.verdict.p1.outcome == "pass" with input as given({"kind": "grinder", "discharge_size": "DN 50"}) with data.profile as profile

test_fail_weak if rate_too_low.verdict.p1.outcome == "fail" with input as given({"kind": "solids_handling", "discharge_size": "DN 50", "rate": 800}) with data.profile as profile

test_boundary_at_21_gpm if {
	rate_too_low.verdict.p1.outcome == "pass" with input as given({"kind": "solids_handling", "discharge_size": "DN 50", "rate": 1325}) with data.profile as profile
	rate_too_low.verdict.p1.outcome == "fail" with input as given({"kind": "solids_handling", "discharge_size": "DN 50", "rate": 1324}) with data.profile as profile
}

test_open_rate_missing if {
	rate_too_low.subject.p1 with input as given({"kind": "solids_handling", "discharge_size": "DN 50"}) with data.profile as profile
	not rate_too_low.verdict.p1 with input as given({"kind": "solids_handling", "discharge_size": "DN 50"}) with data.profile as profile
}

test_open_size_missing if {
	rate_too_low.subject.p1 with input as given({"kind": "solids_handling", "rate": 2000}) with data.profile as profile
	not rate_too_low.verdict.p1 with input as given({"kind": "solids_handling", "rate": 2000}) with data.profile as profile
}

test_open_kind_missing if {
	rate_too_low.subject.p1 with input as given({"discharge_size": "DN 50", "rate": 2000}) with data.profile as profile
	not rate_too_low.verdict.p1 with input as given({"discharge_size": "DN 50", "rate": 2000}) with data.profile as profile
}

test_open_size_not_in_table if {
	rate_too_low.subject.p1 with input as given({"kind": "solids_handling", "discharge_size": "DN 40", "rate": 2000}) with data.profile as profile
	not rate_too_low.verdict.p1 with input as given({"kind": "solids_handling", "discharge_size": "DN 40", "rate": 2000}) with data.profile as profile
}

test_open_table_missing if {
	rate_too_low.subject.p1 with input as given({"kind": "solids_handling", "discharge_size": "DN 50", "rate": 2000}) with data.profile as {}
	not rate_too_low.verdict.p1 with input as given({"kind": "solids_handling", "discharge_size": "DN 50", "rate": 2000}) with data.profile as {}
}

test_not_subject_fixture if count(rate_too_low.subject) == 0 with input as {"fixtures": [{"id": "f1"}]}

test_review_low_end_falls_short if rate_too_low.verdict.p1.outcome == "review" with input as given({"kind": "solids_handling", "discharge_size": "DN 50", "rate": 2145, "rate_low": 1199, "rate_high": 2500}) with data.profile as profile

test_pass_other_kinds if {
	rate_too_low.verdict.p1.outcome == "pass" with input as given({"kind": "effluent", "discharge_size": "DN 50", "rate": 9000}) with data.profile as profile
	rate_too_low.verdict.p1.outcome == "pass" with input as given({"kind": "macerating", "discharge_size": "DN 50"}) with data.profile as profile
}
