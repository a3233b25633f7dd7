package rules.field.house_trap_not_located_test

import data.rules.field.house_trap_not_located

test_review_project if house_trap_not_located.verdict.project.outcome == "review" with input as {"project": {"id": "project", "has_pumped": true}}

test_not_subject_without_it if count(house_trap_not_located.subject) == 0 with input as {"project": {"id": "project", "has_pumped": false}}
