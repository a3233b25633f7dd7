# METADATA
# title: Pump cord too short
# description: The cord of a pump reaches its receptacle without a splice.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: pump
#   quantity: length
#   message: "{subject} has a cord of {measured}; the route to the receptacle is {limit}"
#   remedy: "Order the pump with a longer cord, or have a licensed electrician place the receptacle nearer."
#   rationale: "A splice or extension in a wet pit corrodes and can kill."
#   needs: [cord_length, receptacle_distance]
#   tables: []
#   status: stable
package rules.pump.cord_too_short

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.at_least(p.cord_length, p.receptacle_distance) if some id, p in subject
