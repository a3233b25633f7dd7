# METADATA
# title: Drain narrows in the direction of flow
# description: A drain is no smaller than the largest pipe or fixture outlet that flows into it. A closet outlet that narrows to its drain does not count; trap and drain of a fixture have a rule of their own.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: size
#   message: "{subject} is {measured} below an inflow of {limit} ({fact:largest_inflow_id}); it must not be smaller"
#   remedy: "Make the drain as large as the largest pipe that flows into it."
#   rationale: "Solids that passed the larger pipe catch at the smaller one."
#   needs: [dn, largest_inflow_dn]
#   tables: []
#   status: stable
package rules.drain.reduces_in_flow

import data.lib.judge

subject[p.id] := p if {
	some p in input.drains
	p.fixtures > 0
}

# Flow from outside the design, with no fixture of its own.
subject[p.id] := p if {
	some p in input.drains
	p.largest_inflow_dn
}

verdict[id] := judge.at_least(p.dn, p.largest_inflow_dn) if {
	some id, p in subject
	p.largest_inflow_kind in {"pipe", "fixture_outlet"}
}

verdict[id] := judge.not_required("nothing but the trap of its fixture flows into it, which is compared with it fixture by fixture") if {
	some id, p in subject
	p.largest_inflow_kind == "trap"
}

verdict[id] := judge.not_required("the outlet of a water closet may narrow to the size of its drain") if {
	some id, p in subject
	p.largest_inflow_kind == "closet_outlet"
}
