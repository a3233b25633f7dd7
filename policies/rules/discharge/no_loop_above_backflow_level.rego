# METADATA
# title: No loop above the backflow level
# description: The highest invert of a pumped line stands above the backflow level.
# schemas:
#   - input: schema.facts
# custom:
#   level: error
#   subject: pumped line
#   quantity: length
#   message: "{subject} rises to {measured} above the backflow level; {limit} or more is required"
#   remedy: "Carry the line up in a loop above the backflow level before it enters the drain."
#   rationale: "When the sewer backs up, only the loop keeps it from running through the pump into the cellar; a check valve alone can stick."
#   needs: [loop_above_backflow]
#   tables: [discharge.min_loop]
#   status: stable
package rules.discharge.no_loop_above_backflow_level

import data.lib.judge

subject[d.id] := d if some d in input.discharges

verdict[id] := judge.at_least(d.loop_above_backflow, data.profile.discharge.min_loop) if some id, d in subject
