# METADATA
# title: Basin vent joins other vents
# description: The vent of a basin runs to the open air on its own where the jurisdiction asks for it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: basin
#   message: "{subject} has a vent that joins the vents of drains"
#   remedy: "Run the basin vent to the open air on its own."
#   rationale: "The gas that a filling basin pushes out goes through the shared vent to the fixtures."
#   needs: [vent_joined]
#   tables: [basin.vent_may_join]
#   status: stable
package rules.basin.vent_shared

import data.lib.judge

subject[b.id] := b if {
	some b in input.basins
	b.has_vent
}

verdict[id] := judge.is_false(b.vent_joined) if {
	some id, b in subject
	data.profile.basin.vent_may_join == false
}

verdict[id] := judge.not_required("the vent may join other vents here") if {
	some id, _ in subject
	data.profile.basin.vent_may_join == true
}
