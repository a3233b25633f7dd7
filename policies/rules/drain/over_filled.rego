# METADATA
# title: Drain runs too full at design flow
# description: The depth of flow in a horizontal drain at its design flow is within the share of the bore allowed, by its role where the profile has it so.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: drain
#   quantity: ratio
#   message: "{subject} runs {measured} full at its design flow; {limit} is the most"
#   remedy: "Increase the size or the fall."
#   rationale: "Air has to pass above the water. A drain without that space blows and sucks at its traps."
#   needs: [filling]
#   tables: ["drain.max_filling?", "drain.max_filling_by_role?"]
#   status: stable
package rules.drain.over_filled

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	not p.lie == "vertical"
	not p.lie == "sloped_45"
	judged(p.role)
}

# A profile states one figure for all, or figures for some roles alone.
judged(role) if data.profile.drain.max_filling_by_role[role]

judged(_) if not data.profile.drain.max_filling_by_role

verdict[id] := judge.at_most_range(p.filling_low, p.filling, p.filling_high, limit) if {
	some id, p in subject
	limit := limit_of(p)
}

limit_of(p) := data.profile.drain.max_filling_by_role[p.role]

limit_of(_) := data.profile.drain.max_filling if not data.profile.drain.max_filling_by_role
