# METADATA
# title: Air admittance valve smaller than its vent
# description: The valve is no smaller than the vent that it ends.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   quantity: size
#   message: "{subject} is {measured}; the vent it ends is {limit}"
#   remedy: "Use a valve of the size of the vent."
#   rationale: "The valve throttles the air that the vent was sized for."
#   needs: [dn, vent_dn]
#   tables: []
#   status: stable
package rules.air_admittance.smaller_than_vent

import data.lib.judge

subject[v.id] := v if some v in input.air_admittance_valves

verdict[id] := judge.at_least(v.dn, v.vent_dn) if some id, v in subject
