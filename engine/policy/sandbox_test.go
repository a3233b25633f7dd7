package policy

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"backpitch/engine/facts"
	"backpitch/engine/profile"
)

// childArgument makes this test binary the process that judges apart.
const childArgument = "serve-for-test"

func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == childArgument {
		os.Exit(Serve(os.Stdin, os.Stdout))
	}
	os.Exit(m.Run())
}

func testChild() (*exec.Cmd, error) {
	program, err := os.Executable()
	if err != nil {
		return nil, err
	}
	cmd := exec.Command(program, childArgument)
	cmd.Env = []string{"GOTRACEBACK=none"}
	return cmd, nil
}

// guardedRules prepares rules, beside the sound one, to be judged apart.
func guardedRules(t testing.TB, g Guard, rules map[string]string) (Judge, error) {
	t.Helper()
	all := map[string]string{"drain/too_flat": tooFlat}
	adopts := ""
	for id, text := range rules {
		all[id] = text
		adopts += fmt.Sprintf(`, %q: {"section":"1","basis":"checked","source":"b"}`, id)
	}
	fsys := policiesFS(t, all)
	fsys["profiles/p/profile.json"].Data = []byte(strings.Replace(profileJSON, `"source":"b"}}}`, `"source":"b"}`+adopts+`}}`, 1))
	p, err := profile.Load(fsys, "p")
	if err != nil {
		t.Fatal(err)
	}
	j, err := Guarded(t.Context(), fsys, p, g)
	if err == nil {
		t.Cleanup(func() { j.Close() })
	}
	return j, err
}

// hostileFacts are many drains; one of them named so that a rule can lie in
// wait for it.
func hostileFacts(n int, first string) *facts.Facts {
	f := &facts.Facts{}
	for i := range n {
		id := fmt.Sprintf("d%04d", i)
		if i == 0 {
			id = first
		}
		f.Drains = append(f.Drains, drain(id, "DN 50", "horizontal", some(int64(20000+i))))
	}
	return f
}

// trap is a rule that does what it does only where a drain is called "trap".
func trap(body string) string {
	return rule("x/trap", "", "", everyDrain+`verdict[id] := judge.same(grown, 0) if some id, _ in subject

grown := 0 if not input.drains[0].id == "trap"

grown := huge if input.drains[0].id == "trap"

`+body+"\n")
}

// doubled writes steps that each make twice of the one before.
func doubled(first, step string, n int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "v0 := %s\n\n", first)
	for i := 1; i <= n; i++ {
		fmt.Fprintf(&b, "v%d := %s\n\n", i, strings.ReplaceAll(step, "V", fmt.Sprintf("v%d", i-1)))
	}
	return b.String()
}

var hostile = []struct{ name, body string }{
	{"nested loops", `huge := count([1 | some a in input.drains; some b in input.drains; some c in input.drains; some d in input.drains; a.id != b.id; c.id != d.id])`},
	{"a comprehension that explodes", `huge := count({[a.id, b.id, c.id, d.id] | some a in input.drains; some b in input.drains; some c in input.drains; some d in input.drains})`},
	{"text that doubles", doubled(`"0123456789"`, `concat("", [V, V])`, 40) + `huge := count(v40)`},
	{"a number that is squared", doubled(`count(input.drains)`, `V * V`, 40) + `huge := v40`},
	{"a list that doubles", doubled(`[d.id | some d in input.drains]`, `array.concat(V, V)`, 40) + `huge := count(v40)`},
	{"one call for too much", "huge := count(sprintf(" + strconv.Quote(strings.Repeat("%999999[1]d", 400)) + ", [count(input.drains)]))"},
	{"sets of sets", doubled(`{d.id | some d in input.drains}`, `{[x, y] | some x in V; some y in V}`, 6) + `huge := count(v6)`},
}

// A rule that does not end, or fills the memory, is named; the design after it
// is judged as if nothing had been. Every case within seconds.
func TestHostileRulesAreStoppedAndNamed(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector leaves no process within a limit of its address space")
	}
	g := Guard{Time: 2 * time.Second, Memory: 192 << 20, Child: testChild}
	for _, tt := range hostile {
		t.Run(tt.name, func(t *testing.T) {
			j, err := guardedRules(t, g, map[string]string{"x/trap": trap(tt.body)})
			if err != nil {
				t.Fatal(err)
			}
			before := judged(t, j)
			began := time.Now()
			_, err = j.Judge(t.Context(), hostileFacts(300, "trap"))
			took := time.Since(began)
			e, ok := errors.AsType[*Error](err)
			if !ok || e.Rule != "x/trap" || e.Hint == "" || e.File != "rules/x/trap.rego" || e.Line == 0 {
				t.Fatalf("Judge = %#v (%v), want the rule x/trap named", e, err)
			}
			if !errors.Is(err, context.DeadlineExceeded) && !errors.Is(err, ErrMemory) {
				t.Errorf("the cause is neither time nor memory: %v", err)
			}
			if took > 30*time.Second {
				t.Errorf("it took %s to stop", took)
			}
			t.Logf("%s: %v", took.Round(10*time.Millisecond), err)
			if diff := cmp.Diff(withFigures(before), withFigures(judged(t, j)), cmpopts.IgnoreUnexported(Verdict{})); diff != "" {
				t.Errorf("the next design is judged differently (-before +after):\n%s", diff)
			}
		})
	}
}

func judged(t *testing.T, j Judge) []Verdict {
	t.Helper()
	list, err := j.Judge(t.Context(), hostileFacts(3, "calm"))
	if err != nil || len(list) != 6 {
		t.Fatalf("Judge = %d verdicts, %v; want 6", len(list), err)
	}
	return list
}

// Rules that explode while they are parsed or compiled are named when the
// profile is opened.
func TestHostileTextIsStoppedAtOpening(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector leaves no process within a limit of its address space")
	}
	for _, tt := range []struct{ name, text string }{
		{"a list of millions", trap("huge := count([0" + strings.Repeat(",0", 4_000_000) + "])")},
		{"deep nesting", trap("huge := " + strings.Repeat("[", 200_000) + strings.Repeat("]", 200_000))},
	} {
		t.Run(tt.name, func(t *testing.T) {
			began := time.Now()
			_, err := guardedRules(t, Guard{Time: time.Second, Memory: 192 << 20, Child: testChild}, map[string]string{"x/trap": tt.text})
			if e, ok := errors.AsType[*Error](err); !ok || e.Rule != "x/trap" {
				t.Errorf("Guarded = %.300v, want the rule x/trap named", err)
			}
			if took := time.Since(began); took > 60*time.Second {
				t.Errorf("it took %s to stop", took)
			}
			t.Logf("%.300v", err)
		})
	}
}

// What reaches outside is refused when the profile is opened, by name.
func TestRulesThatReachOutsideAreRefused(t *testing.T) {
	for call, name := range map[string]string{
		`http.send({"method": "get", "url": "http://example.invalid"})`: "http.send",
		`time.now_ns()`:                      "time.now_ns",
		`opa.runtime().env.HOME`:             "opa.runtime",
		`net.lookup_ip_addr("localhost")`:    "net.lookup_ip_addr",
		`rand.intn("x", 10)`:                 "rand.intn",
		`uuid.rfc4122("x")`:                  "uuid.rfc4122",
		`bits.lsh(1, 4000000000)`:            "bits.lsh",
		`numbers.range(1, 10000000000)`:      "numbers.range",
		`io.jwt.decode_verify("x", {})`:      "io.jwt.decode_verify",
		`strings.replace_n({"a": "b"}, "a")`: "strings.replace_n",
	} {
		_, err := guardedRules(t, Guard{Time: 10 * time.Second, Memory: 256 << 20, Child: testChild}, map[string]string{"x/trap": trap("huge := " + call)})
		e, ok := errors.AsType[*Error](err)
		if !ok || e.Rule != "x/trap" || !strings.Contains(e.Message, "undefined function "+name) {
			t.Errorf("%s: Guarded = %v", name, err)
		}
	}
}

// Apart or in this process, trusted or not: the same verdicts, texts' facts
// and kinds, from many goroutines at once.
func TestApartJudgesTheSame(t *testing.T) {
	words := rule("x/words", "", "", everyDrain+`verdict[id] := judge.one_of(p.role, {"stack", "branch"}) if some id, p in subject`+"\n")
	none := rule("x/none", "", "", everyDrain+`verdict[id] := judge.none(p.fixture_kinds) if some id, p in subject`+"\n")
	flag := rule("x/flag", "length", "", everyDrain+`verdict[id] := judge.same(p.dead_end, false) if some id, p in subject`+"\n")
	between := rule("x/between", "", "", everyDrain+`verdict[id] := judge.between(p.slope, 1, 20001) if some id, p in subject`+"\n")
	rules := map[string]string{"x/words": words, "x/none": none, "x/flag": flag, "x/between": between}
	near, err := guardedRules(t, Guard{Time: time.Minute}, rules)
	if err != nil {
		t.Fatal(err)
	}
	far, err := guardedRules(t, Guard{Time: time.Minute, Memory: 512 << 20, Child: testChild}, rules)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(near.Rules(), far.Rules()); diff != "" {
		t.Errorf("Rules (-near +far):\n%s", diff)
	}
	f := hostileFacts(4, "a")
	f.Drains[1].Size = "DN 999"
	want, err := near.Judge(t.Context(), f)
	if err != nil {
		t.Fatal(err)
	}
	var wg sync.WaitGroup
	for range 3 {
		wg.Go(func() {
			got, err := far.Judge(t.Context(), f)
			if diff := cmp.Diff(withFigures(want), withFigures(got), cmpopts.IgnoreUnexported(Verdict{}), cmpopts.EquateEmpty()); err != nil || diff != "" {
				t.Errorf("Judge = %v (-near +far):\n%s", err, diff)
				return
			}
			for i := range got {
				for _, name := range []string{"size", "slope"} {
					a, inNear := want[i].Fact(name)
					b, inFar := got[i].Fact(name)
					if got[i].Rule == "drain/too_flat" && (a != b || inNear != inFar || near.FactKind(got[i].Rule, name) != far.FactKind(got[i].Rule, name)) {
						t.Errorf("%s of %s: %v apart, %v here", name, got[i].Subject, b, a)
					}
				}
			}
		})
	}
	wg.Wait()
}

// A rule that is trusted has no bound of memory, but one of time, and a name.
func TestTrustedRuleThatDoesNotEndIsNamed(t *testing.T) {
	j, err := guardedRules(t, Guard{Time: 300 * time.Millisecond}, map[string]string{"x/trap": trap(hostile[0].body)})
	if err != nil {
		t.Fatal(err)
	}
	_, err = j.Judge(t.Context(), hostileFacts(300, "trap"))
	if e, ok := errors.AsType[*Error](err); !ok || e.Rule != "x/trap" || !e.Stopped() {
		t.Errorf("Judge = %v, want the rule x/trap named", err)
	}
}

// Who asks may go away: the process is ended at once, and the next one works.
func TestApartStopsWhenNobodyWaits(t *testing.T) {
	j, err := guardedRules(t, Guard{Time: time.Minute, Memory: 512 << 20, Child: testChild}, map[string]string{"x/trap": trap(hostile[0].body)})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 100*time.Millisecond)
	defer cancel()
	began := time.Now()
	if _, err := j.Judge(ctx, hostileFacts(300, "trap")); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("Judge = %v, want the end of the context", err)
	}
	if took := time.Since(began); took > 5*time.Second {
		t.Errorf("it took %s to stop", took)
	}
	judged(t, j)
}

// A process that dies while it judges, whatever the reason, costs one design.
func TestDeathOfTheProcessCostsOneDesign(t *testing.T) {
	j, err := guardedRules(t, Guard{Time: time.Minute, Memory: 512 << 20, Child: testChild}, map[string]string{"x/trap": trap(hostile[0].body)})
	if err != nil {
		t.Fatal(err)
	}
	a := j.(*apart)
	c, err := a.take(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	a.put(c)
	go func() {
		time.Sleep(200 * time.Millisecond)
		_ = c.cmd.Process.Kill()
	}()
	a.guard.Time = 2 * time.Second // of naming, after the death
	a.open.Time = 2 * time.Second
	_, err = j.Judge(t.Context(), hostileFacts(300, "trap"))
	if e, ok := errors.AsType[*Error](err); !ok || e.Rule != "x/trap" {
		t.Errorf("Judge = %v, want the rule x/trap named", err)
	}
	judged(t, j)
}
