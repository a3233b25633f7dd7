# METADATA
# title: Drain turns too much between cleanouts
# description: The bends of a horizontal drain between two cleanouts turn no more together than the limit.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   quantity: angle
#   message: "{subject} turns {measured} in all without a cleanout; {limit} is the most"
#   remedy: "Add a cleanout upstream of the turn that exceeds the limit, or take turns out."
#   rationale: "Each bend takes force from the rod; after a few of them it goes no farther."
#   needs: [turns]
#   tables: [cleanout.max_aggregate_turn]
#   status: stable
package rules.cleanout.turns_too_much

import data.lib.judge

subject[r.id] := r if some r in input.cleanout_runs

verdict[id] := judge.at_most(r.turns, data.profile.cleanout.max_aggregate_turn) if some id, r in subject
