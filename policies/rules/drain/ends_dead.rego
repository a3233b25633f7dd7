# METADATA
# title: Dead end
# description: A drain does not end in a length that nothing flows through, unless a cleanout closes it.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: drain
#   message: "{subject} ends dead: nothing drains into it and no cleanout closes its upper end"
#   remedy: "Take the dead length out, or end it in a cleanout if it serves to rod the drain."
#   rationale: "Waste washes back into a dead end, settles there and rots."
#   needs: []
#   tables: []
#   status: stable
package rules.drain.ends_dead

import data.lib.judge

subject[p.id] := p if some p in input.drains

verdict[id] := judge.is_false(p.dead_end) if some id, p in subject
