# METADATA
# title: The only place where a rule compares
# description: |
#   Each function returns one verdict object: outcome, op and, where there is
#   something to compare, measured and limit; detail where a person needs a word
#   more. A function is undefined, so that the subject stays open, when an
#   argument is undefined or of the wrong type: Rego orders values of different
#   types by type, and "unknown" > 3 would otherwise be true.
package lib.judge

# Facts and limits are whole numbers in small fixed units, and 1/16 in is no
# whole number of micrometres: two halves of 5 ft, each rounded, can add up to
# one micrometre more than 5 ft, and 1/8 in/ft over 16 ft to two micrometres
# more than 2 in. A value is therefore at the limit when it misses it by no more
# than one part in `parts` of the limit and by no more than `tolerance` units.
# In lengths that is at most 10 micrometres, a fortieth of 1/64 in, which
# nobody can measure. Sizes, counts, velocities and small flows, where one unit
# can matter, get no allowance at all: 1/10,000 of them is less than one unit.
tolerance := 10

parts := 10000

# METADATA
# title: At the limit
# description: |
#   True when a value that lies `beyond` on the wrong side of `limit` is still
#   at the limit.
# scope: document
within(beyond, _) if beyond <= 0

within(beyond, limit) if {
	beyond > 0
	beyond <= tolerance
	beyond * parts <= abs(limit)
}

# METADATA
# title: At least
# description: Passes when the number measured is the limit or more.
# scope: document
at_least(measured, limit) := {
	"outcome": outcome(limit - measured, limit),
	"op": "at_least",
	"measured": measured,
	"limit": limit,
} if {
	is_number(measured)
	is_number(limit)
}

# METADATA
# title: At most
# description: Passes when the number measured is the limit or less.
# scope: document
at_most(measured, limit) := {
	"outcome": outcome(measured - limit, limit),
	"op": "at_most",
	"measured": measured,
	"limit": limit,
} if {
	is_number(measured)
	is_number(limit)
}

# METADATA
# title: Above
# description: |
#   Passes when the number measured is more than the limit, without any allowance:
#   for a limit that nothing may stand at, such as a fall of nothing.
# scope: document
above(measured, limit) := {
	"outcome": higher(measured, limit),
	"op": "above",
	"measured": measured,
	"limit": limit,
} if {
	is_number(measured)
	is_number(limit)
}

# METADATA
# title: Between
# description: |
#   Passes when the number measured is neither under low nor over high; the
#   limit of the verdict is [low, high].
# scope: document
between(measured, low, high) := {
	"outcome": both(outcome(low - measured, low), outcome(measured - high, high)),
	"op": "between",
	"measured": measured,
	"limit": [low, high],
} if {
	is_number(measured)
	is_number(low)
	is_number(high)
}

# METADATA
# title: At least, over a range
# description: |
#   As at_least for a number that is known from low to high only. It passes when
#   the whole range is the limit or more, fails when the number expected is
#   less, and is left to a person when only an end of the range is less. The
#   detail says so with placeholders, which the renderer fills.
# scope: document
at_least_range(low, expected, high, limit) := over_range(
	at_least(expected, limit),
	[low, expected, high],
	[at_least(low, limit).outcome, at_least(high, limit).outcome],
)

# METADATA
# title: At most, over a range
# description: As at_least_range, for a limit that must not be exceeded.
# scope: document
at_most_range(low, expected, high, limit) := over_range(
	at_most(expected, limit),
	[low, expected, high],
	[at_most(low, limit).outcome, at_most(high, limit).outcome],
)

# METADATA
# title: Between, over a range
# description: As at_least_range, for a lower and an upper limit.
# scope: document
between_range(low, expected, high, least, most) := over_range(
	between(expected, least, most),
	[low, expected, high],
	[between(low, least, most).outcome, between(high, least, most).outcome],
)

# METADATA
# title: Same
# description: |
#   Passes when two words, two numbers or two truth values are equal, without
#   any allowance.
# scope: document
same(measured, wanted) := {
	"outcome": passes_if_none({w | some w in [wanted]; w != measured}),
	"op": "same",
	"measured": measured,
	"limit": wanted,
} if {
	scalar(measured)
	type_name(measured) == type_name(wanted)
}

# METADATA
# title: Is true
# description: Passes when a truth value is true.
# scope: document
is_true(measured) := same(measured, true)

# METADATA
# title: Is false
# description: Passes when a truth value is false.
# scope: document
is_false(measured) := same(measured, false)

# METADATA
# title: One of
# description: |
#   Passes when a word or number is one of those allowed, an array or a set.
#   Where nothing is allowed it fails.
# scope: document
one_of(measured, allowed) := {
	"outcome": passes_if_none({m | some m in [measured]; not m in allowed}),
	"op": "one_of",
	"measured": measured,
	"limit": list(allowed),
} if {
	scalar(measured)
	every a in list(allowed) {
		type_name(a) == type_name(measured)
	}
}

# METADATA
# title: In order
# description: |
#   Passes when every word wanted is there and each stands for the first time
#   before the first of the next. Other words may stand between.
# scope: document
in_order(measured, wanted) := object.union(
	{
		"outcome": passes_if_none(misplaced(measured, wanted)),
		"op": "in_order",
		"measured": measured,
		"limit": wanted,
	},
	absent(measured, wanted),
) if {
	is_array(measured)
	is_array(wanted)
}

# METADATA
# title: None
# description: |
#   Passes when nothing offending was found; found is an array or a set, and
#   what it holds becomes the measured value.
# scope: document
none(found) := {
	"outcome": passes_if_none(found),
	"op": "none",
	"measured": list(found),
	"limit": [],
}

# METADATA
# title: A person decides
# description: The rule cannot be settled from the design; why says what to look at.
# scope: document
person_decides(why) := {
	"outcome": "review",
	"op": "person_decides",
	"detail": why,
} if {
	is_string(why)
}

# METADATA
# title: Not required
# description: Passes because the requirement does not reach this subject; why says which exemption applies.
# scope: document
not_required(why) := {
	"outcome": "pass",
	"op": "not_required",
	"detail": why,
} if {
	is_string(why)
}

outcome(beyond, limit) := "pass" if {
	within(beyond, limit)
} else := "fail"

higher(a, b) := "pass" if a > b

higher(a, b) := "fail" if a <= b

both(a, b) := "pass" if {
	a == "pass"
	b == "pass"
} else := "fail"

passes_if_none(found) := "pass" if {
	count(found) == 0
} else := "fail"

scalar(x) if is_string(x)

scalar(x) if is_number(x)

scalar(x) if is_boolean(x)

list(words) := words if is_array(words)

list(words) := sort(words) if is_set(words)

# Positions of the words wanted that are not there, or do not stand after the
# first of the word wanted before them.
misplaced(measured, wanted) := {k |
	some k, word in wanted
	not in_place(measured, wanted, k, word)
}

in_place(measured, _, 0, word) if word in measured

in_place(measured, wanted, k, word) if {
	k > 0
	first(measured, wanted[k - 1]) < first(measured, word)
}

first(measured, word) := min([i | some i, m in measured; m == word])

absent(measured, wanted) := {} if {
	every word in wanted {
		word in measured
	}
} else := {"detail": sprintf("%s is not there", [concat(", ", [word | some word in wanted; not word in measured])])}

# The verdict on the number expected, with its range; an end that decides
# otherwise is named. A range out of order is a broken fact: the subject stays open.
over_range(verdict, [low, expected, high], ends) := object.union(verdict, object.union(
	spread(low, high),
	turned(verdict.outcome, ends),
)) if {
	low <= expected
	expected <= high
}

spread(low, high) := {} if {
	low == high
} else := {"range": [low, high]}

turned("pass", ["fail", "pass"]) := {
	"outcome": "review",
	"detail": "passes at {measured}, fails at the low end of its range, {low}; the limit is {limit}",
}

turned("pass", ["pass", "fail"]) := {
	"outcome": "review",
	"detail": "passes at {measured}, fails at the high end of its range, {high}; the limit is {limit}",
}

turned("pass", ["fail", "fail"]) := {
	"outcome": "review",
	"detail": "passes at {measured}, fails at both ends of its range, {low} and {high}; the limit is {limit}",
}

turned("pass", ["pass", "pass"]) := {}

turned("fail", ["pass", _]) := {"detail": "the low end of its range, {low}, would pass"}

turned("fail", ["fail", "pass"]) := {"detail": "the high end of its range, {high}, would pass"}

turned("fail", ["fail", "fail"]) := {}
