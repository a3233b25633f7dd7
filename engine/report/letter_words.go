package report

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"backpitch/engine/finding"
)

// onSite is the topic of what only an inspector can see.
const onSite = "field"

// topics are the parts of the work in the order of the letter.
var topics = []struct{ word, title string }{
	{"fixture", "Fixtures and traps"},
	{"trap_arm", "Trap arms"},
	{"drain", "Drains"},
	{"cleanout", "Cleanouts"},
	{"vent", "Vents"},
	{"air_admittance", "Air admittance valves"},
	{"basin", "Basin"},
	{"pump", "Pump"},
	{"discharge", "Pumped discharge"},
	{"backwater", "Backwater protection"},
	{onSite, "On site"},
}

func topicOf(rule string) string {
	word, _, _ := strings.Cut(rule, "/")
	return word
}

// topicTitle is a topic in print; a topic of somebody's own rules is its word.
func topicTitle(word string) string {
	for _, t := range topics {
		if t.word == word {
			return t.title
		}
	}
	return capital(strings.ReplaceAll(word, "_", " "))
}

type topicFindings struct {
	word     string
	findings []finding.Finding
}

// byTopic groups findings, known topics first in their order.
func byTopic(list []finding.Finding) []topicFindings {
	var order []string
	for _, t := range topics {
		order = append(order, t.word)
	}
	var own []string
	groups := map[string][]finding.Finding{}
	for _, f := range list {
		word := topicOf(f.Rule)
		if !slices.Contains(order, word) && groups[word] == nil {
			own = append(own, word)
		}
		groups[word] = append(groups[word], f)
	}
	slices.Sort(own)
	var out []topicFindings
	for _, word := range append(order, own...) {
		if len(groups[word]) > 0 {
			out = append(out, topicFindings{word, groups[word]})
		}
	}
	return out
}

// tagOf is the level of a failure in the words of a letter.
func tagOf(f finding.Finding) string {
	switch {
	case f.Outcome == finding.PersonDecides && topicOf(f.Rule) == onSite:
		return "see on site"
	case f.Outcome == finding.PersonDecides:
		return "to decide"
	case f.Approval != nil:
		return "on file"
	case f.Baseline != "":
		return "existing work"
	case f.Level == finding.Error:
		return "correction"
	}
	return string(f.Level)
}

// capital raises the first letter.
func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// are counts something with the word that agrees with the number.
func are(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

func counted(n int, word string) string {
	if n == 0 {
		return ""
	}
	return plural(n, word)
}

// listWords joins what is not empty: a, b and c.
func listWords(words ...string) string {
	words = nonEmpty(words...)
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// cleanLines replaces what could turn the direction of a line, or end it
// unseen: control characters and the embeddings, overrides and isolates of
// Unicode (UAX #9).
func cleanLines(text []byte) []byte {
	return bytes.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case r == '\r', r == '\t':
			return ' '
		case r < ' ', r >= 0x7f && r <= 0x9f, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x2028, r == 0x2029:
			return '\uFFFD'
		}
		return r
	}, text)
}

// Facts in the words of a letter: what is asked of a drawing that does not show
// them. Those computed follow from others and are not asked for themselves.
var factWords = map[string]string{
	"accessible": "how it can be reached", "buried": "whether it is buried", "class": "its class", "changes": "how the flow turns in it",
	"alarm own circuit": "the circuit of the alarm", "alarm kind": "the kind of alarm", "below manhole": "whether it lies below the next manhole",
	"clearance": "the free space in front of it", "cord length": "the length of the cord", "cover": "its cover of ground", "devices": "its valves and other devices",
	"discharge size": "the size of the discharge pipe", "distance from fixture drain": "the distance from the next fixture drain",
	"distance from stack base": "the distance from the base of a stack", "distance to lot line": "the distance to the lot line",
	"distance to opening": "the distance to openings of the building", "entry": "the side on which it enters", "fastened": "how the cover is fastened",
	"fitting": "the fitting", "frost closure": "protection against frost", "gas tight": "whether the cover is gas-tight", "removable": "whether the cover can be removed",
	"height above drain": "its height above the drain", "height above insulation": "its height above insulation", "height above roof": "its height above the roof",
	"in plenum": "whether it stands in a plenum", "insulation": "insulation around it", "kind": "its kind", "length": "its length", "lie": "whether it lies or stands",
	"material": "its material", "materials": "its materials", "opening": "its smallest opening", "place": "where it stands",
	"pressure rated": "whether it is rated for pressure", "pump kind": "the kind of pump", "rating": "its rating", "receptacle distance": "the distance to the receptacle",
	"relief hole": "the air relief hole", "roof used": "whether people use the roof", "size": "its size", "slope": "its slope", "solids": "the solids it passes",
	"style": "its style", "terminal": "where it ends", "building use": "the use of the building", "valve type": "the type of valve", "outlet size": "the size of the pump outlet",
	"vent ends at": "where its vent ends", "flush volume": "the volume of a flush", "drain size": "the size of its drain", "pipe size": "the size of its pipe",
	"branch size": "the size of the branch", "joined diameter": "the size of the drain it joins", "engineered": "whether an engineer designed it",
	"trap type": "the type of trap", "trap size": "the size of the trap", "trap seal": "the depth of the trap seal", "seal protection": "what keeps the trap seal full",
	"outlet drop": "the drop from outlet to trap", "outlet run": "the run from outlet to trap", "depth": "its depth", "diameter": "its diameter",
	"stop level": "the stop level", "start level": "the start level", "alarm level": "the alarm level", "inlet size": "the size of the inlet", "inlet height": "the height of the inlet",
	"vent size": "the size of the vent", "vent length": "the length of the vent",
	"fixtures below manhole": "the level of the next manhole", "fixtures above manhole": "the level of the next manhole",
	"receiver size": "the drain it joins", "receiver diameter": "the drain it joins", "receiver lie": "the drain it joins", "receiver kind": "the drain it joins",
}

// computedFacts are no figures of a drawing: they follow from others.
var computedFacts = map[string]string{
	"beyond curve": "where the pump works", "may exceed curve": "where the pump works", "cannot lift": "whether the pump can lift", "may not lift": "whether the pump can lift",
	"rate": "the pump rate", "pump rate": "the pump rate", "run time": "the time of a run", "starts per hour": "the starts per hour", "hold time": "the time that sewage is held",
	"reserve time": "the time to the alarm", "flotation factor": "the safety against floating", "storage above start": "the storage above the start level",
	"start below inlet": "the start level below the inlet", "highest start": "the highest start level", "drawdown": "the volume of a run", "drain height": "the height of the drain that enters",
	"fixtures that could fall": "which fixtures could drain by gravity", "fixtures that cannot fall": "which fixtures could drain by gravity",
	"fall available": "the fall that there is", "fall needed": "the fall needed", "fall": "the fall", "velocity": "the velocity", "filling": "the filling", "load": "the load",
	"total load": "the load of the drain it joins", "peak inflow": "the peak inflow", "design flow": "the design flow", "pump pressure": "the pressure of the pump",
	"largest inflow size": "the largest pipe that flows in", "largest drain size": "the largest drain that enters", "branch intervals": "the branch intervals",
	"rise above rim": "the heights above the rims it serves", "horizontal above rim": "the heights above the rims it serves", "height above rim": "the heights above the rims it serves",
	"vented fixtures": "the fixtures it vents", "first vented": "the first fixture it vents", "vent joined": "where its vent joins", "least rating": "the rating needed",
	"loop above backflow": "the loop above the backflow level", "turns": "the turns between cleanouts", "has check valve": "its check valve", "has shutoff": "its shutoff valve",
	"check before shutoff": "the order of its valves", "air can enter": "whether air can enter",
}
