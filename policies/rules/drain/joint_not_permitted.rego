# METADATA
# title: Joint not permitted in this place
# description: A joint is of a kind permitted where it lies. Unlike materials are not cemented together, save by transition cement between ABS and PVC on the drains that allow it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: joint
#   message: "{subject}: {measured} is not permitted here"
#   remedy: "Use a coupling made for the two materials and for that place, with a shield where it lies in the ground."
#   rationale: "Cement dissolves only its own plastic, so a wrong joint holds by its skin; an unshielded sleeve lets the pipes shift and catches solids."
#   needs: [buried]
#   tables: [joint.not_underground, joint.not_above_ground, joint.transition_roles]
#   status: stable
package rules.drain.joint_not_permitted

import data.lib.judge

subject[j.id] := j if some j in input.joints

# What a material key names before its grade: pvc of pvc_dwv, abs of abs_sch40.
families(j) := {split(m, "_")[0] | some m in j.materials}

verdict[id] := judge.none(["solvent_cement between unlike materials"]) if {
	some id, j in subject
	j.kind == "solvent_cement"
	count(families(j)) > 1
}

verdict[id] := judge.none({"transition_cement" | some ok in [transition_allowed(j, roles)]; ok == false}) if {
	some id, j in subject
	j.kind == "transition_cement"
	roles := data.profile.joint.transition_roles
}

verdict[id] := judge.none({k | some k in barred; k == j.kind}) if {
	some id, j in subject
	ordinary(j)
	barred := barred_where[j.buried]
}

transition_allowed(j, roles) if {
	families(j) == {"abs", "pvc"}
	object.get(j, "role", "") in roles
} else := false

ordinary(j) if not j.kind in {"solvent_cement", "transition_cement"}

ordinary(j) if {
	j.kind == "solvent_cement"
	count(families(j)) < 2
}

barred_where[true] := data.profile.joint.not_underground

barred_where[false] := data.profile.joint.not_above_ground
