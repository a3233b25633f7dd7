# METADATA
# title: Pumped line without its union and valves in order
# description: "A pumped line has the devices required in order of flow: a union, a check valve, a shutoff valve."
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} has {measured}; required in order of flow: {limit}"
#   remedy: "Fit what is missing, in the order required."
#   rationale: "Without a union above the pump the line has to be cut to lift it out."
#   needs: [devices]
#   tables: [discharge.devices_required]
#   status: stable
package rules.discharge.union_missing

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.in_order(d.devices, data.profile.discharge.devices_required) if some id, d in subject
