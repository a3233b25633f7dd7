# METADATA
# title: Vent that ends nowhere
# description: A vent leads to the open air or to an air admittance valve.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: vent
#   message: "{subject} leads to {measured}; it must end in the open air or at an air admittance valve"
#   remedy: "Carry the vent on to a terminal, or join it to a vent that has one."
#   rationale: "A closed pipe gives the drain no air."
#   needs: []
#   tables: []
#   status: stable
package rules.vent.ends_nowhere

import data.lib.judge

subject[v.id] := v if some v in input.vents

verdict[id] := judge.one_of(v.ends_at, ["open_air", "air_admittance_valve"]) if some id, v in subject
