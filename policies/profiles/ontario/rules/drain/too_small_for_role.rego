# METADATA
# title: Drain under the least size for its role
# description: A drain is at least the size stated for its role, whatever its load.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: size
#   message: "{subject}, a {fact:role}, is {measured}; {limit} or larger is required"
#   remedy: "Use the size required."
#   rationale: "What serves the whole building is not sized by the fixtures of today alone."
#   needs: [dn]
#   tables: [drain.min_size_by_role]
#   status: stable
package rules.drain.too_small_for_role

import data.lib.judge

subject[d.id] := d if {
	some d in input.drains
	data.profile.drain.min_size_by_role[d.role]
}

verdict[id] := judge.at_least(d.dn, limit) if {
	some id, d in subject
	limit := data.profile.drain.min_size_by_role[d.role]
}
