package bundle

import (
	"fmt"
	"strings"
)

// entryTail settles outcomes as the engine does: silence is open, and a pass
// on facts that are missing is open, too.
const entryTail = `
# outcome[rule][subject] is pass, fail, review or open.
outcome[rule][id] := settled(answer, rule, fact) if {
	some rule, subjects in subject
	some id, fact in subjects
	answer := object.get(verdict[rule], id, {"outcome": "open", "op": ""})
}

# failing[rule][subject] is what was measured, the limit, and the rule's section.
failing[rule][id] := object.union(verdict[rule][id], cited) if {
	some rule, subjects in outcome
	some id, "fail" in subjects
	cited := object.filter(data.adopted[rule], ["title", "level", "section", "basis", "source"])
}

# counts has how many subjects of all rules came to each outcome.
counts := {word: n |
	some word in ["fail", "open", "pass", "review"]
	n := count([id | some subjects in outcome; some id, came in subjects; came == word])
}

default settled(_, _, _) := "open"

settled(answer, rule, fact) := answer.outcome if {
	not passed_over(answer, rule, fact)
}

passed_over(answer, rule, fact) if {
	answer.outcome == "pass"
	answer.op != "not_required"
	some need in data.adopted[rule].needs
	lacks(need, fact)
}

lacks(need, fact) if {
	need.of == "subject"
	object.get(fact, need.path, null) == null
}

lacks(need, _) if {
	need.of == "design"
	object.get(input, need.path, null) == null
}
`

// entry writes the module that asks all adopted rules at once.
func entry(ids []string) []byte {
	var b strings.Builder
	b.WriteString(`# METADATA
# title: Review of a drainage design
# description: >-
#   The input is the facts of a design, as "backpitch facts DESIGN" prints them.
#   A pre-check: the local code and the authority having jurisdiction govern.
# entrypoint: true
package review
`)
	for _, name := range []string{"subject", "verdict"} {
		fmt.Fprintf(&b, "\n%s := {\n", name)
		for _, id := range ids {
			fmt.Fprintf(&b, "\t%q: data.rules.%s.%s,\n", id, strings.ReplaceAll(id, "/", "."), name)
		}
		b.WriteString("}\n")
	}
	b.WriteString(entryTail)
	return []byte(b.String())
}
