# METADATA
# title: Unvented branch drops too far
# description: An unvented branch drops no more than the limit from trap to vented pipe.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: branch of
#   quantity: length
#   message: "{subject} drops {measured} to the vented pipe; {limit} is the most"
#   remedy: "Vent the branch, or bring the fixture nearer the level of the pipe that takes it."
#   rationale: "A long drop fills the pipe and pulls the trap dry behind it."
#   needs: [fall]
#   tables: [trap_arm.max_drop]
#   status: stable
package rules.trap_arm.drops_too_far

import data.lib.judge

subject[a.id] := a if some a in input.trap_arms

verdict[id] := judge.at_most(a.fall, data.profile.trap_arm.max_drop) if some id, a in subject
