# METADATA
# title: Discharge pipe smaller than the pump outlet
# description: The pumped line is nowhere smaller than the outlet of its pump.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: pump
#   quantity: size
#   message: "{subject} has an outlet of {limit}; its line narrows to {measured}"
#   remedy: "Keep the line at the size of the outlet or larger."
#   rationale: "What the pump passes lodges where the pipe narrows."
#   needs: [discharge_dn, outlet_dn]
#   tables: []
#   status: stable
package rules.pump.outlet_reduced

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.at_least(p.discharge_dn, p.outlet_dn) if some id, p in subject
