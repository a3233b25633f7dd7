package proof

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// Run tests the profiles and every rule they adopt. Its error is that of
// policies that cannot be used at all, as profile and policy report it.
func Run(ctx context.Context, o Options) (*Report, error) {
	r := &runner{o: o, report: &Report{}, proofs: map[string][]Proof{}}
	for _, step := range []func(context.Context) error{r.load, r.tests, r.prove, r.mutate} {
		if err := step(ctx); err != nil {
			return nil, err
		}
	}
	r.unusedWaivers()
	r.report.Problems, r.report.Notes = sortProblems(r.report.Problems), sortProblems(r.report.Notes)
	return r.report, nil
}

type runner struct {
	o        Options
	profiles []*profile.Profile
	bench    *policy.Bench
	waivers  *Waivers
	report   *Report
	proofs   map[string][]Proof // by profile
	mu       sync.Mutex
}

func (r *runner) problem(p Problem) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.report.Problems = append(r.report.Problems, p)
}

func (r *runner) note(p Problem) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.report.Notes = append(r.report.Notes, p)
}

// own reports whether a file is under test.
func (r *runner) own(file string) bool { return r.o.Own == nil || r.o.Own(file) }

// ownProfile reports whether the figures that a profile states are.
func (r *runner) ownProfile(id string) bool { return r.own(path.Join("profiles", id, "profile.json")) }

// load reads everything; all that is broken is named at once.
func (r *runner) load(ctx context.Context) error {
	var broken []error
	chain := []string{}
	for _, id := range r.o.Profiles {
		p, err := profile.Load(r.o.Policies, id)
		if err != nil {
			broken = append(broken, err)
			continue
		}
		r.profiles = append(r.profiles, p)
		for _, c := range p.Chain {
			if !slices.Contains(chain, c) {
				chain = append(chain, c)
			}
		}
	}
	if len(r.profiles) == 0 {
		return errors.Join(broken...)
	}
	var err error
	if r.waivers, err = readWaivers(r.o.Policies, chain); err != nil {
		broken = append(broken, err)
	}
	// The catalogue checks METADATA; stock OPA checks everything, tests too.
	for _, p := range r.profiles {
		if _, err := policy.Catalogue(r.o.Policies, p.Chain...); err != nil {
			broken = append(broken, err)
			break
		}
	}
	if len(broken) == 0 {
		if err := policy.Check(r.tested()); err != nil {
			broken = append(broken, err)
		}
	}
	if len(broken) == 0 {
		if r.bench, err = policy.NewBench(r.o.Policies, chain...); err != nil {
			broken = append(broken, err)
		}
	}
	for _, p := range r.profiles {
		if len(broken) == 0 {
			if _, err := policy.Prepare(ctx, r.o.Policies, p); err != nil {
				broken = append(broken, err)
			}
		}
	}
	return errors.Join(broken...)
}

// tested are the policies whose Rego tests are run: all, or the own ones with
// the helpers.
func (r *runner) tested() fs.FS {
	if r.o.Own == nil {
		return r.o.Policies
	}
	return shown{r.o.Policies, func(file string) bool {
		return r.o.Own(file) || strings.HasPrefix(file, "lib/")
	}}
}

// shown is a file system that has only some of its files.
type shown struct {
	fs.FS
	show func(file string) bool
}

// ReadDir implements fs.ReadDirFS.
func (s shown) ReadDir(name string) ([]fs.DirEntry, error) {
	entries, err := fs.ReadDir(s.FS, name)
	return slices.DeleteFunc(entries, func(e fs.DirEntry) bool {
		return !e.IsDir() && !s.show(path.Join(name, e.Name()))
	}), err
}

// tests runs the Rego tests and looks for what is not tested or not used.
func (r *runner) tests(ctx context.Context) error {
	results, coverage, err := policy.RunTests(ctx, r.tested(), true)
	if err != nil {
		return err
	}
	named := map[string][]string{}
	for _, t := range results {
		if !r.own(t.File) {
			continue
		}
		rule := strings.ReplaceAll(strings.TrimSuffix(strings.TrimPrefix(t.Package, "rules."), "_test"), ".", "/")
		named[t.File] = append(named[t.File], t.Name)
		r.report.Tests.Run++
		if t.Failed {
			r.report.Tests.Failed++
			r.problem(Problem{Code: "test_failed", Rule: rule, File: t.File, Line: t.Line, Message: strings.TrimSuffix(t.Name+" fails: "+t.Message, ": ")})
		}
	}
	for file, percent := range coverage.Percent {
		if !r.own(file) {
			continue
		}
		r.report.Tests.Files++
		if percent >= 100 {
			r.report.Tests.Whole++
			continue
		}
		lines := coverage.NotCovered[file]
		r.problem(Problem{Code: "not_covered", File: file, Line: first(lines), Message: fmt.Sprintf("no test runs line %s", ranges(lines)),
			Hint: "add a test whose facts lead there, or take the lines out"})
	}
	for _, u := range r.bench.Units() {
		if r.own(u.File) {
			r.testKinds(u, named[strings.TrimSuffix(u.File, ".rego")+"_test.rego"])
		}
	}
	r.unusedThings()
	return nil
}

// testKinds asks for a test of every outcome that the rule can have.
func (r *runner) testKinds(u *policy.Unit, names []string) {
	wanted := map[string]string{"test_pass": "facts that pass", "test_fail": "facts that fail",
		"test_open": "a subject that is open because a fact or table entry is missing", "test_not_subject": "facts that are no subject"}
	if u.AlwaysAsks() {
		wanted = map[string]string{"test_review": "facts that a person must judge", "test_not_subject": "facts that are no subject"}
	}
	if u.Quantity != "" && !u.NoBoundary {
		wanted["test_boundary"] = "facts exactly at the limit, and one smallest unit beyond"
	}
	for _, prefix := range sortedKeys(wanted) {
		if !slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(n, prefix) }) {
			r.problem(Problem{Code: "test_missing", Rule: u.ID, File: u.File, Line: 1,
				Message: fmt.Sprintf("no test is called %s…", prefix), Hint: "add one with " + wanted[prefix]})
		}
	}
}

// unusedThings notes tables that nobody reads, rules that nobody adopts, and
// adopted rules whose table the profile lacks.
func (r *runner) unusedThings() {
	adopted := map[string]bool{}
	for _, p := range r.profiles {
		read := map[string]bool{}
		for _, u := range r.bench.Adopted(p) {
			adopted[u.File] = true
			for _, id := range slices.Concat(u.Tables, u.Optional) {
				read[id] = true
			}
			for _, id := range u.Tables {
				if p.Table(id) == nil && id != profile.FixtureLoad && id != profile.FixtureTrap && r.ownProfile(p.ID) {
					r.problem(Problem{Code: "table_missing", Profile: p.ID, Rule: u.ID, File: path.Join("profiles", p.ID, "profile.json"),
						Message: fmt.Sprintf("the profile adopts %s and has no table %s: every subject stays open", u.ID, id),
						Hint:    "add the table, or adopt another rule"})
				}
			}
		}
		for _, id := range p.Tables() {
			from := p.Table(id).Rows()[0].From
			if !read[id] && !slices.Contains(p.FactTables(), id) && r.ownProfile(from) && from == p.ID {
				r.note(Problem{Code: "table_unread", Profile: p.ID, File: path.Join("profiles", p.ID, "profile.json"),
					Message: fmt.Sprintf("no adopted rule and no fact reads table %s", id)})
			}
		}
	}
	for _, u := range r.bench.Units() {
		if !adopted[u.File] && r.own(u.File) {
			r.note(Problem{Code: "not_adopted", Rule: u.ID, File: u.File, Line: 1, Message: fmt.Sprintf("none of these profiles adopts %s", u.ID)})
		}
	}
}

func first(lines []int) int {
	if len(lines) == 0 {
		return 0
	}
	return lines[0]
}

// ranges is "3 to 5, 9".
func ranges(lines []int) string {
	lines = slices.Compact(lines)
	var out []string
	for i := 0; i < len(lines); {
		j := i
		for j+1 < len(lines) && lines[j+1] == lines[j]+1 {
			j++
		}
		text := fmt.Sprint(lines[i])
		if j > i {
			text += fmt.Sprintf(" to %d", lines[j])
		}
		out = append(out, text)
		i = j + 1
	}
	return strings.Join(out, ", ")
}

func (r *runner) unusedWaivers() {
	const hint = "take it out, or write the names as the rule and the profile do"
	for _, f := range r.waivers.Figures {
		if !f.used && r.own(f.file) && r.concerns(f.Profiles) {
			r.note(Problem{Code: "waiver_unused", Rule: f.Rule, File: f.file, Message: fmt.Sprintf("the waiver for %s, %s is not needed", f.Rule, f.Table), Hint: hint})
		}
	}
	for _, m := range r.waivers.Mutants {
		if !m.used && r.o.Mutate && r.o.Every < 2 && r.own(m.file) {
			r.note(Problem{Code: "waiver_unused", File: m.file, Message: fmt.Sprintf("the waiver for %s, %q to %q is not needed", m.File, m.Was, m.Is), Hint: hint})
		}
	}
}

// concerns reports whether a profile under test is one of those or amends one.
func (r *runner) concerns(ids []string) bool {
	for _, p := range r.profiles {
		if len(ids) == 0 || slices.ContainsFunc(p.Chain, func(id string) bool { return slices.Contains(ids, id) }) {
			return true
		}
	}
	return false
}

// each runs f for 0 … n-1 on every core; the first error in order is returned.
func each(n int, f func(i int) error) error {
	errs := make([]error, n)
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				errs[i] = f(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
