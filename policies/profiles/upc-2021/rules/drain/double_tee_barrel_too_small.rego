# METADATA
# title: Double sanitary tee with too small a barrel
# description: The barrel of a double sanitary tee is the stated number of sizes larger than its branches.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: fitting
#   quantity: size
#   message: "{subject}, a double sanitary tee, has a barrel of {measured}; with its branches {limit} or larger is required"
#   remedy: "Use a larger barrel, or a double fixture fitting."
#   rationale: "In a narrow barrel the flow from one side shoots across into the other."
#   needs: [dn, branch_dn]
#   tables: [fitting.double_barrel_sizes]
#   status: stable
package rules.drain.double_tee_barrel_too_small

import data.lib.judge

# Nominal sizes of drainage fittings in the trade, in order.
sizes := [32, 40, 50, 65, 80, 100, 125, 150, 200, 250, 300, 375]

subject[f.id] := f if {
	some f in input.fittings
	f.double == true
	not another(f)
}

another(f) if f.kind != "double_sanitary_tee"

verdict[id] := judge.at_least(f.dn, larger[data.profile.fitting.double_barrel_sizes - 1]) if {
	some id, f in subject
	larger := [s | some s in sizes; s > f.branch_dn]
}
