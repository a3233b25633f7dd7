# METADATA
# title: Reading a profile's tables
# description: |
#   A table column of numbers (slopes, lengths, loads, flows) is an array of
#   {"at", "value"} sorted by "at". Each function is undefined, so that the
#   subject stays open, where the table does not reach.
package lib.table

import data.lib.judge

# METADATA
# title: The step at or below
# description: |
#   The value at the greatest "at" that x reaches, with the allowance of
#   lib.judge: a slope that is 1/4 in/ft but for its rounding reads the row of
#   1/4 in/ft.
# scope: document
at_or_below(steps, x) := fits[count(fits) - 1].value if {
	is_number(x)
	fits := [s | some s in steps; judge.within(s.at - x, s.at)]
}

# METADATA
# title: The step at or above
# description: The value at the least "at" that holds x, with the allowance of lib.judge.
# scope: document
at_or_above(steps, x) := fits[0].value if {
	is_number(x)
	fits := [s | some s in steps; judge.within(x - s.at, s.at)]
}

# METADATA
# title: Size key
# description: The key by which tables know a nominal size, such as "DN 80".
# scope: document
size_key(dn) := sprintf("DN %d", [dn]) if is_number(dn)
