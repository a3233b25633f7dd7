package rules.basin.drawdown_below_pipe_content_test

import data.rules.basin.drawdown_below_pipe_content

# At least the content of the line: EN 12056-4 6, from memory. 5 m of DN 80 hold about 25 L.
profile := {}

more := {"discharges": [{"id": "m", "basin_id": "s1", "held_volume": 25000}]}

given := {"id": "s1", "drawdown": 40000}

test_pass_more if outcome(given, profile) == "pass"

test_fail_less if outcome(object.union(given, {"drawdown": 10000}), profile) == "fail"

test_boundary_as_much if outcome(object.union(given, {"drawdown": 25000}), profile) == "pass"

test_boundary_a_litre_less if outcome(object.union(given, {"drawdown": 24000}), profile) == "fail"

test_open_without_drawdown if open(object.remove(given, ["drawdown"]), profile)

test_open_without_content if not drawdown_below_pipe_content.verdict.s1 with input as {"basins": [given], "discharges": [{"id": "m", "basin_id": "s1", "held_volume": 25000}, {"id": "n", "basin_id": "s1"}]}

test_not_subject_without_line if not is_subject(object.union(given, {"id": "s2"}))

test_fail_for_the_larger_of_two_lines if drawdown_below_pipe_content.verdict.s1.outcome == "fail" with input as {"basins": [given], "discharges": [{"id": "m", "basin_id": "s1", "held_volume": 25000}, {"id": "n", "basin_id": "s1", "held_volume": 50000}]}

test_pass_whatever_the_line_of_another_basin_holds if drawdown_below_pipe_content.verdict.s1.outcome == "pass" with input as {"basins": [given], "discharges": [{"id": "m", "basin_id": "s1", "held_volume": 25000}, {"id": "n", "basin_id": "s2", "held_volume": 90000}]}

outcome(d, p) := o if {
	o := drawdown_below_pipe_content.verdict[d.id].outcome with input as object.union(more, {"basins": [d]}) with data.profile as p
}

open(d, p) if {
	drawdown_below_pipe_content.subject[d.id] with input as object.union(more, {"basins": [d]}) with data.profile as p
	not drawdown_below_pipe_content.verdict[d.id] with input as object.union(more, {"basins": [d]}) with data.profile as p
}

is_subject(d) if drawdown_below_pipe_content.subject[d.id] with input as object.union(more, {"basins": [d]}) with data.profile as profile
