# METADATA
# title: Fixture too low to fall and not pumped
# description: Fixtures that cannot reach the sewer by gravity drain to a basin with a pump.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: building
#   quantity: count
#   message: "{subject} has {measured} fixtures that cannot reach the sewer by gravity and are not pumped"
#   remedy: "Lead them to a basin with a pump, or raise them."
#   rationale: "Waste that cannot fall stays in the pipe, and the lowest fixture overflows first."
#   needs: [fixtures_that_cannot_fall]
#   tables: []
#   status: stable
package rules.basin.missing

import data.lib.judge

subject[b.id] := b if b := input.building

verdict[id] := judge.at_most(b.fixtures_that_cannot_fall, 0) if some id, b in subject
