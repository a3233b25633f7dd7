package rules.field.well_distance_not_measured_test

import data.rules.field.well_distance_not_measured

test_review_project if well_distance_not_measured.verdict.project.outcome == "review" with input as {"project": {"id": "project", "has_basin": true}}

test_not_subject_without_it if count(well_distance_not_measured.subject) == 0 with input as {"project": {"id": "project", "has_basin": false}}
