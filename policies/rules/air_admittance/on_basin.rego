# METADATA
# title: Air admittance valve on a basin
# description: A valve vents a sewage basin only in an engineered design.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   message: "{subject} vents a basin and no engineered design is stated"
#   remedy: "Vent the basin to the open air, or submit the engineered design."
#   rationale: "The valve lets air in and none out: a filling basin pushes its air through the nearest trap seal."
#   needs: [engineered]
#   tables: []
#   status: stable
package rules.air_admittance.on_basin

import data.lib.judge

subject[v.id] := v if {
	some v in input.air_admittance_valves
	v.serves_basin
}

verdict[id] := judge.is_true(v.engineered) if some id, v in subject
