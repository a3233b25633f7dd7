# METADATA
# title: Air admittance valve in an air plenum
# description: The valve does not stand in a supply or return air plenum.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   message: "{subject} stands in a supply or return air plenum"
#   remedy: "Move the valve out of the plenum."
#   rationale: "A valve that leaks in a plenum sends sewer gas to every room the fan serves."
#   needs: [in_plenum]
#   tables: []
#   status: stable
package rules.air_admittance.in_plenum

import data.lib.judge

subject[v.id] := v if some v in input.air_admittance_valves

verdict[id] := judge.is_false(v.in_plenum) if some id, v in subject
