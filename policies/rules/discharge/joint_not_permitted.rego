# METADATA
# title: Joint not permitted in a pumped line
# description: A joint of a pumped line is of a kind that holds pressure.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: joint
#   message: "{subject} is of kind {measured}, which is not permitted in pumped lines"
#   remedy: "Use a joint that is rated for pressure."
#   rationale: "A drainage coupling slips off when the pump starts against a full line."
#   needs: [kind]
#   tables: [discharge.joints_not_permitted]
#   status: stable
package rules.discharge.joint_not_permitted

import data.lib.judge

subject[j.id] := j if {
	some j in input.joints
	j.pumped
}

verdict[id] := judge.none([kind | some kind in [j.kind]; kind in forbidden]) if {
	some id, j in subject
	forbidden := data.profile.discharge.joints_not_permitted
}
