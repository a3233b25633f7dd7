# METADATA
# title: Pumped line rated too near the pressure of its pump
# description: The least pressure rating in a pumped line is a stated multiple of the pump's pressure.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   quantity: pressure
#   message: "{subject} is rated for {measured}; with its pump {limit} or more is required"
#   remedy: "Use pipe and joints of a higher rating."
#   rationale: "A check valve that shuts sends a blow through the line that is higher than the pump's pressure."
#   needs: [least_rating, pump_pressure]
#   tables: [discharge.min_pressure_factor]
#   status: stable
package rules.discharge.rating_margin_too_small

import data.lib.judge

subject[d.id] := d if some d in input.discharges

# The factor is in thousandths.
verdict[id] := judge.at_least(d.least_rating, ceil((d.pump_pressure * factor) / 1000)) if {
	some id, d in subject
	d.rating_stated == true
	factor := data.profile.discharge.min_pressure_factor
}
