# METADATA
# title: Vent joins or turns below the flood rim
# description: A dry vent rises above the flood-level rim of every fixture it serves before it turns level or joins another vent. A vent that ends at an air admittance valve below that height is left to a person.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: vent
#   quantity: length
#   message: "{subject} joins or turns level {measured} above the highest rim it serves; {limit} or more is required"
#   remedy: "Carry the vent up higher before it turns or joins."
#   rationale: "When the drain stops up, waste rises into a low vent and stays there; the vent is blocked and nobody sees it."
#   needs: [rise_above_rim]
#   tables: [vent.dry_rise_above_rim]
#   status: stable
package rules.vent.dry_below_rim

import data.lib.judge

subject[v.id] := v if {
	some v in input.vents
	v.serves_drains == true
}

rise(v) := judge.at_least(v.rise_above_rim, data.profile.vent.dry_rise_above_rim)

verdict[id] := rise(v) if {
	some id, v in subject
	rise(v).outcome == "pass"
}

verdict[id] := rise(v) if {
	some id, v in subject
	v.ends_at != "air_admittance_valve"
}

verdict[id] := judge.person_decides("it ends at an air admittance valve: see that it joins no other vent below the flood rim") if {
	some id, v in subject
	v.ends_at == "air_admittance_valve"
	rise(v).outcome == "fail"
}
