# METADATA
# title: Facts without uncertainty
# description: |
#   Rule tests that are not about ranges give one number; exact adds the low and
#   high ends that the engine always states beside it, unless the test states them.
package lib.exact_test

exact(facts, names) := object.union(
	{key: facts[name] |
		some name in names
		some end in ["low", "high"]
		key := sprintf("%s_%s", [name, end])
	},
	facts,
)

test_exact_adds_both_ends if exact({"rate": 3}, ["rate"]) == {"rate": 3, "rate_low": 3, "rate_high": 3}

test_exact_keeps_what_is_stated if exact({"rate": 3, "rate_low": 1}, ["rate"]).rate_low == 1

test_exact_adds_nothing_to_what_is_absent if exact({"id": "p1"}, ["rate"]) == {"id": "p1"}
