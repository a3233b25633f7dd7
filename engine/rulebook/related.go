package rulebook

import (
	"cmp"
	"slices"
	"strings"
)

// An entry lists so many related rules at most, and of those that share nothing
// but its topic only so many as make up the least.
const mostRelated, leastRelated = 8, 4

// everyday are facts that most rules need; sharing one says nothing.
var everyday = []string{"size", "dn", "kind", "id", "lie", "role"}

// relate lists for each entry the rules that read a table of its own, then those
// of its topic that need the same facts, then the rest of its topic.
func relate(entries map[string]*Entry) {
	for _, e := range entries {
		type candidate struct {
			Related
			rank int
		}
		var list []candidate
		for _, o := range entries {
			if o == e {
				continue
			}
			why, rank := likeness(e, o)
			if rank > 0 {
				list = append(list, candidate{Related{o.ID, o.Title, why}, rank})
			}
		}
		slices.SortFunc(list, func(a, b candidate) int {
			return cmp.Or(cmp.Compare(b.rank, a.rank), cmp.Compare(a.ID, b.ID))
		})
		for i, c := range list[:min(len(list), mostRelated)] {
			if c.rank == 1 && i >= leastRelated {
				break
			}
			e.Related = append(e.Related, c.Related)
		}
	}
}

// likeness says what two rules share; rank 0 for nothing.
func likeness(a, b *Entry) (why string, rank int) {
	var tables []string
	for _, t := range a.Tables {
		if slices.Contains(b.Tables, t) {
			tables = append(tables, t.ID)
		}
	}
	var facts []string
	for _, need := range a.Needs {
		if slices.Contains(b.Needs, need) && !slices.Contains(everyday, need) {
			facts = append(facts, plain(need))
		}
	}
	sameTopic := topicOf(a.ID) == topicOf(b.ID)
	rank = 4 * len(tables)
	if sameTopic {
		rank += 2*len(facts) + 1
	}
	switch {
	case len(tables) > 0:
		return "reads the same table: " + strings.Join(tables, ", "), rank
	case rank == 0:
		return "", 0
	case len(facts) > 0:
		return "looks at the same facts: " + strings.Join(facts, ", "), rank
	}
	return "same topic", rank
}

func topicOf(id string) string {
	topic, _, _ := strings.Cut(id, "/")
	return topic
}

// plain is the name of a fact in words.
func plain(name string) string {
	return strings.NewReplacer("_", " ", ".", ", ").Replace(name)
}
