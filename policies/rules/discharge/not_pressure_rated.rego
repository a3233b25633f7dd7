# METADATA
# title: Pumped line not rated for its pressure
# description: Every pipe of a pumped line is rated for the shut-off pressure of its pump.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} is not rated for the pressure of its pump"
#   remedy: "Use pressure pipe and fittings rated above the shut-off head."
#   rationale: "Drainage pipe is made to carry water, not to hold it: its joints let go under pressure, inside a wall or under a slab."
#   needs: [pressure_rated]
#   tables: []
#   status: stable
package rules.discharge.not_pressure_rated

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.is_true(d.pressure_rated) if some id, d in subject
