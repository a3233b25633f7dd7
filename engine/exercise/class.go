package exercise

import "slices"

// Class is the marks of everyone.
type Class struct {
	Key      *Key
	Students []Marked
}

// Missed is how often a fault of the key was missed by those whose files could
// be marked.
type Missed struct {
	Number  int    `json:"number"`
	Subject string `json:"subject"`
	Rule    string `json:"rule"`
	Missed  int    `json:"missed"`
	Of      int    `json:"of"`
}

// Marked counts the files that could be marked.
func (c Class) Marked() int {
	n := 0
	for _, s := range c.Students {
		if len(s.Problems) == 0 {
			n++
		}
	}
	return n
}

// Missed lists the faults, the most missed first.
func (c Class) Missed() []Missed {
	list := make([]Missed, len(c.Key.Faults))
	for i, f := range c.Key.Faults {
		list[i] = Missed{Number: f.Number, Subject: f.Findings[0].Subject, Rule: f.Findings[0].Rule, Of: c.Marked()}
		for _, s := range c.Students {
			if len(s.Problems) == 0 && !s.Faults[i].Found {
				list[i].Missed++
			}
		}
	}
	slices.SortStableFunc(list, func(a, b Missed) int { return b.Missed - a.Missed })
	return list
}

// Average is the mean of the marks, in tenths; 0 where nothing was marked.
func (c Class) Average() int {
	sum, n := 0, c.Marked()
	if n == 0 {
		return 0
	}
	for _, s := range c.Students {
		sum += s.Marks
	}
	return (sum*20/n + 1) / 2
}
