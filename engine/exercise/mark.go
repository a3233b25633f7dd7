package exercise

import (
	"slices"
	"strings"

	"backpitch/engine/finding"
)

// What became of an answer.
const (
	Right      = "found"        // it names a fault of the key
	Again      = "again"        // it names a fault that an earlier answer has
	Undecided  = "for a person" // a person must look: neither mark nor penalty
	FalseAlarm = "false alarm"  // no such fault
	Unmarked   = "not marked"   // the file could not be read
)

// Marked is one handed-in file with its marks.
type Marked struct {
	File     string            `json:"file"`
	Student  string            `json:"student"`
	Marks    int               `json:"marks"`
	Full     int               `json:"full"`
	Problems []finding.Problem `json:"problems,omitempty"` // why it could not be marked
	Faults   []FaultMarks      `json:"faults"`             // of the key, found or missed
	Answers  []AnswerMarks     `json:"answers"`            // as handed in
	Sound    *bool             `json:"sound,omitempty"`    // of a sound design: whether it was called so
	Alarms   int               `json:"false_alarms"`
}

// FaultMarks is what a student got for one fault of the key.
type FaultMarks struct {
	Number  int    `json:"number"`
	Subject string `json:"subject"`
	Rule    string `json:"rule"`
	Found   bool   `json:"found"`
	Marks   int    `json:"marks"`
	Full    int    `json:"full"`
}

// AnswerMarks is what became of one answer.
type AnswerMarks struct {
	Answer  Answer   `json:"answer"`
	Became  string   `json:"became"`
	Fault   int      `json:"fault,omitempty"` // number in the key
	Marks   int      `json:"marks"`
	Remarks []string `json:"remarks,omitempty"`
}

// Mark marks one student's answers by the key.
func Mark(k *Key, file string, a *Answers) Marked {
	out := blank(k, file)
	out.Student = a.Student
	for _, answer := range a.Answers {
		out.Answers = append(out.Answers, out.judge(k, answer))
	}
	if len(k.Faults) == 0 {
		sound := a.Sound
		out.Sound = &sound
		if sound {
			out.Marks += k.Scheme.Sound
		}
	}
	for _, f := range out.Faults {
		out.Marks += f.Marks
	}
	out.Marks = max(0, out.Marks-out.Alarms*k.Scheme.FalseAlarm)
	return out
}

// blank is a sheet with nothing found.
func blank(k *Key, file string) Marked {
	out := Marked{File: file, Faults: []FaultMarks{}, Answers: []AnswerMarks{}}
	for _, f := range k.Faults {
		full := k.full(f)
		out.Faults = append(out.Faults, FaultMarks{Number: f.Number, Subject: f.Findings[0].Subject, Rule: f.Findings[0].Rule, Full: full})
		out.Full += full
	}
	if len(k.Faults) == 0 {
		out.Full = k.Scheme.Sound
	}
	return out
}

// full is what can be got for a fault.
func (k *Key) full(f KeyFault) int {
	s, main := k.Scheme, f.Findings[0]
	n := s.Found + s.Section
	if f.Outcome == finding.Open {
		return n + s.Missing
	}
	if statesFound(main) {
		n += s.Measured
	}
	if statesLimit(main) {
		n += s.Limit
	}
	if f.Sum {
		n += s.Sum
	}
	return n
}

// Refuse is the sheet of a file that cannot be marked.
func Refuse(k *Key, file string, problems []finding.Problem) Marked {
	out := blank(k, file)
	out.Problems = problems
	return out
}

// Submission is one handed-in file, or why it could not be read.
type Submission struct {
	File   string
	Data   []byte
	Reason string
}

// MarkClass marks every submission; one that cannot be read gets no marks and
// keeps no other from being marked.
func MarkClass(k *Key, handedIn []Submission) Class {
	class := Class{Key: k, Students: []Marked{}}
	for _, s := range handedIn {
		class.Students = append(class.Students, markOne(k, s))
	}
	return class
}

func markOne(k *Key, s Submission) Marked {
	problem := func(code, message, hint string) Marked {
		return Refuse(k, s.File, []finding.Problem{{Place: finding.Place{File: s.File}, Code: code, Message: message, Hint: hint}})
	}
	if s.Reason != "" {
		return problem("unreadable", s.Reason, "")
	}
	a, problems := ReadAnswers(s.File, s.Data)
	if len(problems) > 0 {
		return Refuse(k, s.File, problems)
	}
	if !strings.EqualFold(a.Exercise, k.Exercise) {
		return problem("other_exercise", `these answers are not to this exercise`, `"exercise" is on the answer sheet: `+k.Exercise)
	}
	return Mark(k, s.File, a)
}

// judge finds what an answer means and marks it.
func (m *Marked) judge(k *Key, a Answer) AnswerMarks {
	out := AnswerMarks{Answer: a}
	i, fits := k.meant(a)
	switch {
	case i >= 0 && m.Faults[i].Found:
		out.Became, out.Fault = Again, k.Faults[i].Number
		out.Remarks = []string{"the same fault as an earlier answer"}
	case i >= 0:
		out.Became, out.Fault = Right, k.Faults[i].Number
		out.Marks, out.Remarks = k.mark(k.Faults[i], fits, a)
		m.Faults[i].Found, m.Faults[i].Marks = true, out.Marks
	case k.undecided(a):
		out.Became = Undecided
		out.Remarks = []string{"the drawing cannot show this: a person must look"}
	default:
		out.Became = FalseAlarm
		out.Marks = -k.Scheme.FalseAlarm
		out.Remarks = []string{k.whyNot(a)}
		m.Alarms++
	}
	return out
}

// meant is the fault an answer names, -1 for none, and the findings of it that
// the answer fits best.
func (k *Key) meant(a Answer) (int, []KeyFinding) {
	best, bestFit := -1, 0
	var fits []KeyFinding
	for i, f := range k.Faults {
		for _, found := range f.Findings {
			fit := 0
			if found.Outcome == a.Outcome && f.isAbout(a.Subject, found) {
				fit = sameRule(a.Rule, found)
			}
			switch {
			case fit > bestFit:
				best, bestFit, fits = i, fit, []KeyFinding{found}
			case fit == bestFit && fit > 0 && i == best:
				fits = append(fits, found)
			}
		}
	}
	return best, fits
}

// isAbout: people name a fault by the element that a rule speaks of, or by one
// that was changed: no two faults of a key share an element.
func (f *KeyFault) isAbout(subject string, found KeyFinding) bool {
	return sameSubject(subject, found.Subject) || slices.ContainsFunc(f.Elements, func(id string) bool { return sameSubject(subject, id) })
}

func (k *Key) undecided(a Answer) bool {
	return slices.ContainsFunc(k.Undecided, func(r Ref) bool {
		return sameSubject(a.Subject, r.Subject) && sameRule(a.Rule, KeyFinding{Rule: r.Rule}) > 0
	})
}

// whyNot tells a student what is wrong about a false alarm.
func (k *Key) whyNot(a Answer) string {
	for _, f := range k.Faults {
		for _, found := range f.Findings {
			if !f.isAbout(a.Subject, found) {
				continue
			}
			if sameRule(a.Rule, found) > 0 {
				return "the outcome is " + string(found.Outcome) + ", not " + string(a.Outcome)
			}
			return "the fault of this element is another one"
		}
	}
	return "the review finds no fault here"
}

// mark gives the marks of one found fault. Where the answer fits several
// findings of it, the one that gives most counts.
func (k *Key) mark(f KeyFault, fits []KeyFinding, a Answer) (int, []string) {
	best, remarks := -1, []string(nil)
	for _, found := range fits {
		if n, r := k.markFinding(f, found, a); n > best {
			best, remarks = n, r
		}
	}
	return min(best, k.full(f)), remarks
}

func (k *Key) markFinding(f KeyFault, found KeyFinding, a Answer) (int, []string) {
	s := k.Scheme
	marks := s.Found
	var remarks []string
	give := func(right bool, n int, remark string) {
		if right {
			marks += n
		} else {
			remarks = append(remarks, remark)
		}
	}
	give(sameSection(a.Section, found.Section), s.Section, "section: "+found.Section)
	if found.Outcome == finding.Open {
		give(sameMissing(a.Missing, append(slices.Clone(found.Missing), f.Why)), s.Missing, "not shown: "+strings.Join(found.Missing, ", "))
		return marks, remarks
	}
	if statesFound(found) {
		give(sameQuantity(a.Found, found.Measured, s.TolerancePercent) || sameWords(a.Found, found), s.Measured, "found: "+found.Measured.Text)
	}
	if statesLimit(found) {
		give(sameQuantity(a.Required, found.Limit, s.TolerancePercent), s.Limit, "required: "+found.Limit.Text)
	}
	switch {
	case f.Sum && a.Sum == "":
		remarks = append(remarks, "sum: none is shown")
	case a.Sum != "":
		err := sumShows(a.Sum, found, s.TolerancePercent)
		if err == nil && f.Sum {
			marks += s.Sum
		}
		if err != nil {
			remarks = append(remarks, "sum: "+err.Error())
		}
	}
	return marks, remarks
}
