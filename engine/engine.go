// Package engine is the façade: it opens a profile once and reviews many
// designs under it.
//
// What enters: the bytes of a design and the id of a profile. What leaves: a
// finding.Review, plain data. It reads no file, prints nothing and exits
// nowhere; a broken policy is the review's Failure, never a silent pass.
package engine

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"runtime"
	"sync"

	"backpitch/engine/design"
	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/network"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// Options configure an Engine.
type Options struct {
	Policies fs.FS         // root with lib, rules and profiles
	Limits   design.Limits // zero: the defaults
	Guard    Guard         // zero: rules are trusted, and judged in this process
}

// Engine opens profiles. It is safe for many goroutines.
type Engine struct {
	policies fs.FS
	limits   design.Limits
	guard    Guard

	mu       sync.Mutex
	open     map[string]*opening
	profiles map[string]*profile.Profile
}

// opening is one profile being opened, at most once.
type opening struct {
	once     sync.Once
	reviewer *Reviewer
	err      error
}

// New returns an engine; nothing is read before a profile is opened.
func New(o Options) *Engine {
	return &Engine{policies: o.Policies, limits: o.Limits.OrDefault(), guard: o.Guard, open: map[string]*opening{}, profiles: map[string]*profile.Profile{}}
}

// Limits are those of a design.
func (e *Engine) Limits() design.Limits { return e.limits }

// Profiles lists the profiles, sorted by id.
func (e *Engine) Profiles() ([]profile.Summary, error) { return profile.List(e.policies) }

// Profile returns one profile, its amendments merged. It is loaded once.
func (e *Engine) Profile(id string) (*profile.Profile, error) {
	e.mu.Lock()
	p := e.profiles[id]
	e.mu.Unlock()
	if p != nil {
		return p, nil
	}
	p, err := profile.Load(e.policies, id)
	if err != nil {
		return nil, err
	}
	e.mu.Lock()
	defer e.mu.Unlock()
	e.profiles[id] = p
	return p, nil
}

// Rules lists the rules a profile adopts, sorted by id.
func (e *Engine) Rules(profileID string) ([]profile.Rule, error) {
	r, err := e.Open(context.Background(), profileID)
	if err != nil {
		return nil, err
	}
	return r.rules, nil
}

// Open loads a profile and prepares its rules, once for each id.
func (e *Engine) Open(ctx context.Context, id string) (*Reviewer, error) {
	e.mu.Lock()
	o := e.open[id]
	if o == nil {
		o = &opening{}
		e.open[id] = o
	}
	e.mu.Unlock()
	o.once.Do(func() {
		defer func() { // on a goroutine of its own a fault would end the program
			if fault := recover(); fault != nil {
				o.err = fmt.Errorf("backpitch has a fault: %v", fault)
			}
		}()
		o.reviewer, o.err = e.prepare(ctx, id)
	})
	return o.reviewer, o.err
}

// ahead opens the profile of the first design while that is still read, on
// another core. A profile that is only guessed wrong costs nothing but time.
func (e *Engine) ahead(ctx context.Context, data []byte, id string) {
	if id == "" {
		id = guess(data)
	}
	e.mu.Lock()
	first := len(e.open) == 0
	e.mu.Unlock()
	if !first || id == "" || e.guard.Child != nil || runtime.GOMAXPROCS(0) == 1 {
		return
	}
	// The review of this design may end first, and others want the profile, too.
	ctx = context.WithoutCancel(ctx)
	go func() {
		_, _ = e.Open(ctx, id) // whoever wants it gets the error
	}()
}

// guess finds what is most likely the profile that a design names.
func guess(data []byte) string {
	_, rest, _ := bytes.Cut(data, []byte(`"profile"`))
	rest, colon := bytes.CutPrefix(bytes.TrimLeft(rest, " \t\r\n"), []byte(":"))
	rest, quote := bytes.CutPrefix(bytes.TrimLeft(rest, " \t\r\n"), []byte(`"`))
	id, _, end := bytes.Cut(rest[:min(len(rest), 100)], []byte(`"`))
	if !colon || !quote || !end {
		return ""
	}
	return string(id)
}

func (e *Engine) prepare(ctx context.Context, id string) (*Reviewer, error) {
	p, err := e.Profile(id)
	if err != nil {
		return nil, err
	}
	prepared, err := policy.Guarded(ctx, e.policies, p, e.guard)
	if err != nil {
		return nil, err
	}
	r := &Reviewer{limits: e.limits, profile: p, prepared: prepared, rules: prepared.Rules(), byID: map[string]profile.Rule{}}
	r.tables = sync.OnceValue(func() facts.Tables { return facts.FromProfile(p) })
	for _, rule := range r.rules {
		r.byID[rule.ID] = rule
	}
	return r, nil
}

// Submission is one design to review.
type Submission struct {
	Name string // as the user named it
	Data []byte
	// Brief is for reports that only count what passes: such findings then have
	// no words and no figures, and the review does not hold the design's elements.
	Brief bool
}

// Review reviews a design under the profile named, or under the design's own
// where profileID is empty.
func (e *Engine) Review(ctx context.Context, s Submission, profileID string) finding.Review {
	doc, r, review := e.begin(ctx, s, profileID)
	if r == nil {
		return review
	}
	return r.review(ctx, s, doc, review)
}

const (
	noProfile     = "no profile: the design names none and none was asked for"
	noProfileHint = `add "profile" to the design or give --profile; backpitch profile list shows them`
)

// begin reads a design and opens its profile; the reviewer is nil where the
// review already says why it cannot go on.
func (e *Engine) begin(ctx context.Context, s Submission, profileID string) (*design.Document, *Reviewer, finding.Review) {
	e.ahead(ctx, s.Data, profileID)
	doc, problems := design.Read(s.Name, s.Data, e.limits)
	if doc == nil {
		return nil, nil, finding.Review{File: s.Name, Problems: problems}
	}
	review := finding.Review{File: s.Name, Problems: problems, Project: projectOf(doc)}
	if len(problems) > 0 {
		return doc, nil, review // a design that contradicts itself is not judged
	}
	if profileID == "" {
		profileID = doc.Profile
	}
	if profileID == "" {
		review.Failure, review.Hint = noProfile, noProfileHint
		return doc, nil, review
	}
	r, err := e.Open(ctx, profileID)
	if err != nil {
		review.Failure, review.Hint = Explain(err)
		return doc, nil, review
	}
	return doc, r, review
}

// Reviewer reviews designs under one profile. It is safe for many goroutines.
type Reviewer struct {
	limits   design.Limits
	profile  *profile.Profile
	prepared policy.Judge
	rules    []profile.Rule
	byID     map[string]profile.Rule
	tables   func() facts.Tables // of the profile, read once
}

// Profile returns the profile it judges under.
func (r *Reviewer) Profile() *profile.Profile { return r.profile }

// Review reviews one design.
func (r *Reviewer) Review(ctx context.Context, s Submission) finding.Review {
	doc, problems := design.Read(s.Name, s.Data, r.limits)
	if doc == nil {
		return finding.Review{File: s.Name, Problems: problems, Profile: r.info()}
	}
	review := finding.Review{File: s.Name, Problems: problems, Project: projectOf(doc)}
	if len(problems) > 0 {
		review.Profile = r.info()
		return review
	}
	return r.review(ctx, s, doc, review)
}

func (r *Reviewer) review(ctx context.Context, s Submission, doc *design.Document, review finding.Review) finding.Review {
	review.Profile = r.info()
	derived, problems := derive(s.Name, doc, r.tables())
	if derived == nil {
		finding.SortProblems(problems)
		review.Problems = r.limits.Cut(s.Name, problems)
		return review
	}
	return r.judge(ctx, s, doc, derived, review)
}

func (r *Reviewer) judge(ctx context.Context, s Submission, doc *design.Document, derived *facts.Facts, review finding.Review) finding.Review {
	verdicts, err := r.prepared.Judge(ctx, derived)
	if err != nil {
		review.Failure, review.Hint = Explain(err)
		return review
	}
	review.Findings, err = r.findings(s, doc, verdicts)
	if err != nil {
		review.Failure, review.Hint = Explain(err)
		review.Findings = nil
		return review
	}
	review.Rules = len(r.rules)
	if !s.Brief {
		review.Elements = elements(doc)
	}
	count(&review)
	return review
}

// Derive computes the facts of a decoded design under a profile's tables. The
// facts are nil when the design contradicts itself so that none can be had.
func Derive(file string, doc *design.Document, p *profile.Profile) (*facts.Facts, []finding.Problem) {
	return derive(file, doc, facts.FromProfile(p))
}

func derive(file string, doc *design.Document, tables facts.Tables) (*facts.Facts, []finding.Problem) {
	net, problems := network.Build(doc)
	inFile(file, problems)
	if len(problems) > 0 {
		return nil, problems
	}
	derived, problems := facts.DeriveWith(doc, net, tables)
	inFile(file, problems)
	if len(problems) > 0 {
		return nil, problems
	}
	return derived, nil
}

func inFile(file string, problems []finding.Problem) {
	for i := range problems {
		problems[i].Place.File = file
	}
}

func projectOf(doc *design.Document) finding.Project {
	return finding.Project{Name: doc.Project.Name, Reference: doc.Project.Reference, Revision: doc.Project.Revision}
}

func (r *Reviewer) info() finding.ProfileInfo {
	p := r.profile
	units := "US"
	if p.Units == quantity.SI {
		units = "SI"
	}
	return finding.ProfileInfo{ID: p.ID, Title: p.Title, Edition: p.Edition, Authority: p.Authority, Amends: p.Amends, Units: units, Verify: p.Verify, Figures: p.Figures()}
}

// Explain splits an error into what happened and what to do about it. A list
// of errors prints its own hints.
func Explain(err error) (failure, hint string) {
	var h interface{ HintText() string }
	if errors.As(err, &h) {
		hint = h.HintText()
	}
	return err.Error(), hint
}
