# METADATA
# title: Receiving drain smaller than the pumped line
# description: The drain that receives a pumped line is no smaller than the line.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   quantity: size
#   message: "{subject} is {limit}; the drain that receives it is {measured}"
#   remedy: "Lead the line to a larger drain."
#   rationale: "What comes up the line under pressure does not fit the drain it enters."
#   needs: [receiver_dn, dn]
#   tables: []
#   status: stable
package rules.discharge.receiver_too_small

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.at_least(d.receiver_dn, d.dn) if some id, d in subject
