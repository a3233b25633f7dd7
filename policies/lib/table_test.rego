package lib.table_test

import data.lib.table

# Three slopes in parts per million: 1/8, 1/4 and 1/2 in/ft.
steps := [
	{"at": 10417, "value": "eighth"},
	{"at": 20833, "value": "quarter"},
	{"at": 41667, "value": "half"},
]

test_at_or_below_takes_the_greatest_reached if {
	table.at_or_below(steps, 20833) == "quarter"
	table.at_or_below(steps, 30000) == "quarter"
	table.at_or_below(steps, 90000) == "half"
}

test_at_or_below_forgives_rounding_only if {
	table.at_or_below(steps, 20831) == "quarter"
	table.at_or_below(steps, 20830) == "eighth"
}

test_at_or_below_ends_under_the_table if {
	not table.at_or_below(steps, 10000)
	not table.at_or_below([], 10000)
}

test_at_or_above_takes_the_least_that_holds if {
	table.at_or_above(steps, 20833) == "quarter"
	table.at_or_above(steps, 20836) == "half"
	table.at_or_above(steps, 1) == "eighth"
}

test_at_or_above_ends_over_the_table if {
	not table.at_or_above(steps, 41672)
	not table.at_or_above([], 1)
}

test_a_word_finds_no_step if {
	not table.at_or_below(steps, "steep")
	not table.at_or_above(steps, "steep")
}

test_a_false_value_is_still_found if table.at_or_below([{"at": 1, "value": false}], 2) == false

test_size_key if {
	table.size_key(80) == "DN 80"
	not table.size_key("80")
}
