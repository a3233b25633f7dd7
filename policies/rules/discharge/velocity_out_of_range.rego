# METADATA
# title: Velocity in a pumped line out of range
# description: At the operating point the velocity is high enough to carry solids and low enough to spare the pipe.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: pumped line
#   quantity: velocity
#   message: "{subject} flows at {measured}; it should stay within {limit}"
#   remedy: "Change the size of the line, or the pump."
#   rationale: "Too slow, solids settle in the line. Too fast, the check valve slams and friction eats the head."
#   needs: [velocity]
#   tables: [discharge.min_velocity, discharge.max_velocity]
#   status: stable
package rules.discharge.velocity_out_of_range

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.between_range(d.velocity_low, d.velocity, d.velocity_high, least, most) if {
	some id, d in subject
	least := data.profile.discharge.min_velocity
	most := data.profile.discharge.max_velocity
}
