# METADATA
# title: No high-water alarm
# description: The basin of a pump has a high-water alarm of an accepted kind.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning
#   subject: pump
#   message: "{subject} has an alarm of kind {measured}; one of {limit} is wanted"
#   remedy: "Fit a high-water alarm that is heard or seen where people are."
#   rationale: "Without an alarm the first sign of a dead pump is sewage on the floor."
#   needs: [alarm_kind]
#   tables: [pump.alarm_kinds]
#   status: stable
package rules.pump.alarm_missing

import data.lib.judge

subject[p.id] := p if some p in input.pumps

verdict[id] := judge.one_of(p.alarm_kind, data.profile.pump.alarm_kinds) if some id, p in subject
