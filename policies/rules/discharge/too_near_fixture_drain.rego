# METADATA
# title: Pumped line joins too near a fixture drain
# description: A pumped line joins a horizontal drain at least the required distance from a fixture drain.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   quantity: length
#   message: "{subject} joins {measured} from a fixture drain; {limit} or more is required"
#   remedy: "Move the connection away from the fixture drain."
#   rationale: "The surge of the pump goes up the nearest fixture drain and lifts its trap seal."
#   needs: [receiver_lie, distance_from_fixture_drain, receiver_diameter]
#   tables: ["discharge.stack_base_distance?", "discharge.stack_base_distance_diameters?"]
#   status: stable
package rules.discharge.too_near_fixture_drain

import data.lib.judge

subject[d.id] := d if {
	some d in input.discharges
	not d.receiver_lie == "vertical"
}

verdict[id] := judge.at_least(d.distance_from_fixture_drain, limit(d)) if {
	some id, d in subject
	d.receiver_lie == "horizontal"
	d.no_fixture_drain_upstream == false
}

verdict[id] := judge.not_required("no fixture drain stands upstream of it") if {
	some id, d in subject
	d.receiver_lie == "horizontal"
	d.no_fixture_drain_upstream == true
}

# A profile states a length, or a number of diameters of the receiving drain.
limit(d) := data.profile.discharge.stack_base_distance if {
	is_number(data.profile.discharge.stack_base_distance)
} else := data.profile.discharge.stack_base_distance_diameters * d.receiver_diameter
