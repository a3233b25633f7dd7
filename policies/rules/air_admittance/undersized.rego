# METADATA
# title: Air admittance valve rated for less than its load
# description: The valve is rated for the load of the drains that it serves.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: air admittance valve
#   quantity: load
#   message: "{subject} is rated for {measured}; it serves {limit}"
#   remedy: "Use a valve rated for the load, or serve fewer fixtures by it."
#   rationale: "Too small a valve cannot admit air as fast as the water falls, and the trap seals go with it."
#   needs: [rating, load]
#   tables: []
#   status: stable
package rules.air_admittance.undersized

import data.lib.judge

# A valve that vents a basin alone serves no drain whose load it could be rated
# for; air_admittance/on_basin judges it.
subject[v.id] := v if {
	some v in input.air_admittance_valves
	not basin_alone(v)
}

basin_alone(v) if {
	v.serves_basin
	v.fixtures == 0
}

verdict[id] := judge.at_least(v.rating, v.load) if some id, v in subject
