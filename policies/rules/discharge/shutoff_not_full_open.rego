# METADATA
# title: Shutoff valve does not open fully
# description: The shutoff valve of a pumped line is of a style that opens to the full bore.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: valve
#   message: "{subject} is a {measured} valve; use one of {limit}"
#   remedy: "Replace it by a full-open valve."
#   rationale: "Globe and butterfly valves keep a disc in the flow that catches paper and rags."
#   needs: [style]
#   tables: [discharge.shutoff_styles]
#   status: stable
package rules.discharge.shutoff_not_full_open

import data.lib.judge

subject[v.id] := v if {
	some v in input.valves
	v.kind in {"full_open_valve", "shutoff_valve"}
}

verdict[id] := judge.one_of(v.style, data.profile.discharge.shutoff_styles) if some id, v in subject
