package rules.drain.double_tee_barrel_too_small_test

import data.rules.drain.double_tee_barrel_too_small

# Two sizes larger: IAPMO plumbing code 706.2, from memory. Two sizes over 2 in is 3 in.
profile := {"fitting": {"double_barrel_sizes": 2}}

given := {"id": "j1", "kind": "double_sanitary_tee", "double": true, "dn": 100, "branch_dn": 50}

test_pass_larger if outcome(given, profile) == "pass"

test_fail_same_size if outcome(object.union(given, {"dn": 50}), profile) == "fail"

test_boundary_two_sizes if outcome(object.union(given, {"dn": 80}), profile) == "pass"

test_boundary_one_size if outcome(object.union(given, {"dn": 65}), profile) == "fail"

test_open_without_branch_size if open(object.remove(given, ["branch_dn"]), profile)

test_open_without_size if open(object.remove(given, ["dn"]), profile)

test_open_without_table if open(given, {})

test_not_subject_single_tee if not is_subject(object.union(given, {"kind": "sanitary_tee", "double": false}))

test_not_subject_wye if not is_subject(object.union(given, {"kind": "double_wye"}))

test_boundary_of_every_size if {
	every pair in [[25, 32], [32, 40], [40, 50], [50, 65], [65, 80], [80, 100], [100, 125], [125, 150], [150, 200], [200, 250], [250, 300], [300, 375]] {
		outcome(object.union(given, {"branch_dn": pair[0], "dn": pair[1]}), {"fitting": {"double_barrel_sizes": 1}}) == "pass"
		outcome(object.union(given, {"branch_dn": pair[0], "dn": pair[1] - 1}), {"fitting": {"double_barrel_sizes": 1}}) == "fail"
	}
}

test_not_subject_when_it_is_not_double if not is_subject(object.union(object.remove(given, ["kind"]), {"double": false}))

outcome(d, p) := o if {
	o := double_tee_barrel_too_small.verdict[d.id].outcome with input as {"fittings": [d]} with data.profile as p
}

open(d, p) if {
	double_tee_barrel_too_small.subject[d.id] with input as {"fittings": [d]} with data.profile as p
	not double_tee_barrel_too_small.verdict[d.id] with input as {"fittings": [d]} with data.profile as p
}

is_subject(d) if double_tee_barrel_too_small.subject[d.id] with input as {"fittings": [d]} with data.profile as profile
