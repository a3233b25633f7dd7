package bench

import (
	"context"
	"encoding/json"
	"fmt"
	"io/fs"
	"slices"

	"backpitch/engine"
	"backpitch/engine/drafting"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/report/drawing"
)

// Bench reviews for one page. It is not safe for several goroutines: a page
// asks one thing at a time.
type Bench struct {
	policies fs.FS
	plain    *engine.Engine // the policies as they are

	laid   lay // what the engine below was made of
	class  *engine.Engine
	faults []Fault
}

// New returns a bench over the policies.
func New(policies fs.FS) *Bench {
	return &Bench{policies: policies, plain: engine.New(engine.Options{Policies: policies})}
}

// Profile is one choice of the profile chooser.
type Profile struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Rules int    `json:"rules"`
}

// Profiles lists the choices, sorted by id.
func (b *Bench) Profiles() ([]Profile, error) {
	list, err := profile.List(b.policies)
	out := make([]Profile, len(list))
	for i, s := range list {
		out[i] = Profile{s.ID, s.Title, s.Rules}
	}
	return out, err
}

// Request is what stands in the page.
type Request struct {
	Name      string `json:"name"` // of the design's file
	Design    string `json:"design"`
	Profile   string `json:"profile"`   // "" for the design's own
	Rule      string `json:"rule"`      // Rego of the class; "" for none
	Amendment string `json:"amendment"` // of the profile, as JSON; "" for none
}

// Answer is what the page shows.
type Answer struct {
	Profile  finding.ProfileInfo `json:"profile"`
	Project  finding.Project     `json:"project"`
	Failure  string              `json:"failure,omitempty"` // why nothing was judged
	Hint     string              `json:"hint,omitempty"`
	Faults   []Fault             `json:"faults"` // of the class's rule and amendment
	Class    string              `json:"class"`  // id of the class's rule, "" for none
	Problems []finding.Problem   `json:"problems"`
	Counts   finding.Counts      `json:"counts"`
	Rules    int                 `json:"rules"`
	Subjects int                 `json:"subjects"`
	Items    []Item              `json:"items"`
	Left     int                 `json:"left"` // findings that are counted and not listed
	Riser    string              `json:"riser"`
	NoRiser  string              `json:"no_riser"` // why there is none
}

// Item is a finding with its number in the page and its place in the diagram.
type Item struct {
	N       int    `json:"n"`       // 0 for a pass
	Element string `json:"element"` // XML id in the riser diagram
	finding.Finding
}

// What a page can hold: more is counted and named, never dropped in silence.
const (
	mostItems = 3000
	mostPipes = 1000 // of a riser diagram
)

const riserPrefix = "riser-"

// Open prepares the profile of a request, with what the class lays over it,
// and returns what is wrong with that. It takes a second or two where Review
// takes a tenth of one, and nothing where nothing has changed.
func (b *Bench) Open(q Request) []Fault {
	e, id, faults := b.engineFor(q)
	if e == nil || id == "" {
		return faults
	}
	if _, err := e.Open(context.Background(), id); err != nil {
		return b.faultsOf(err)
	}
	return nil
}

// Review reviews the design of a request.
func (b *Bench) Review(q Request) Answer {
	a := Answer{Faults: []Fault{}, Problems: []finding.Problem{}, Items: []Item{}}
	e, id, faults := b.engineFor(q)
	a.Class = q.lay().ruleID()
	if len(faults) > 0 {
		a.Faults, a.Failure = faults, "the class's rule cannot be used yet, so nothing was judged"
		return a
	}
	w := e.Work(context.Background(), engine.Submission{Name: q.Name, Data: []byte(q.Design)}, id)
	r := w.Review
	a.Profile, a.Project, a.Counts, a.Rules, a.Subjects = r.Profile, r.Project, r.Counts, r.Rules, r.Subjects
	a.Problems = append(a.Problems, r.Problems...)
	a.Failure, a.Hint = r.Failure, r.Hint
	if r.Failure != "" && !q.lay().empty() {
		a.Faults = b.faultsOf(fmt.Errorf("%s%s", r.Failure, hintLine(r.Hint)))
	}
	a.number(r.Findings)
	a.draw(w)
	return a
}

func hintLine(hint string) string {
	if hint == "" {
		return ""
	}
	return "\n  hint: " + hint
}

// number lists the findings, what is to be mended first, and numbers all but
// the passes.
func (a *Answer) number(list []finding.Finding) {
	sorted := slices.Clone(list)
	slices.SortStableFunc(sorted, func(x, y finding.Finding) int { return rank(x) - rank(y) })
	for i, f := range sorted {
		if i == mostItems {
			a.Left = len(sorted) - i
			break
		}
		item := Item{Finding: f, Element: drawing.ElementID(riserPrefix, finding.ElementOf(f.Subject))}
		if f.Outcome != finding.Pass {
			item.N = i + 1
		}
		a.Items = append(a.Items, item)
	}
}

func rank(f finding.Finding) int {
	switch f.Outcome {
	case finding.Fail:
		return map[finding.Level]int{finding.Error: 0, finding.Warning: 1, finding.Note: 2}[f.Level]
	case finding.Open:
		return 3
	case finding.PersonDecides:
		return 4
	}
	return 5
}

// draw makes the riser diagram, each numbered finding at its element.
func (a *Answer) draw(w engine.Working) {
	switch {
	case w.Record == nil || w.Facts == nil:
		a.NoRiser = "It is drawn once the design can be computed."
		return
	case len(w.Design.Pipes) > mostPipes:
		a.NoRiser = fmt.Sprintf("The design has %d pipes; up to %d are drawn here. The command draw has no such limit.", len(w.Design.Pipes), mostPipes)
		return
	}
	s := drafting.Source{Design: w.Design, Facts: w.Facts, Record: w.Record, Findings: w.Review.Findings, Units: w.Units}
	d := drafting.Riser(s)
	d.Prefix, d.Marks = riserPrefix, map[string][]drawing.Mark{}
	for _, i := range a.Items {
		if i.N == 0 || i.N > 999 {
			continue
		}
		id := finding.ElementOf(i.Subject)
		d.Marks[id] = append(d.Marks[id], drawing.Mark{Text: fmt.Sprint(i.N), Href: fmt.Sprintf("#finding-%d", i.N),
			Name: fmt.Sprintf("finding %d: %s", i.N, i.Title)})
	}
	a.Riser = string(drawing.Riser(d))
}

// ownProfile is the profile that a design names, as far as it can be read.
func ownProfile(design string) string {
	var d struct {
		Profile string `json:"profile"`
	}
	if json.Unmarshal([]byte(design), &d) != nil {
		return ""
	}
	return d.Profile
}
