# METADATA
# title: Pumped line enters a drain that may not take it
# description: A pumped line enters a kind of drain that may take pumped flow.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   message: "{subject} enters a {measured}; it may enter {limit}"
#   remedy: "Lead the line to a permitted drain."
#   rationale: "A pump sends more at once than a small branch can swallow, and it backs up into the nearest fixture."
#   needs: [receiver_kind]
#   tables: [discharge.receivers]
#   status: stable
package rules.discharge.receiver_not_permitted

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.one_of(d.receiver_kind, data.profile.discharge.receivers) if some id, d in subject
