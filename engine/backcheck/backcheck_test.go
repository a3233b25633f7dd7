package backcheck

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/finding"
	"backpitch/schema"
)

func element(id, kind, value string) finding.Element {
	return finding.Element{ID: id, Kind: kind, Value: json.RawMessage(value)}
}

func found(rule, subject string, outcome finding.Outcome, measured string, line int) finding.Finding {
	f := finding.Finding{Rule: rule, Title: "Title of " + rule, Level: finding.Error, Outcome: outcome, Subject: subject, SubjectName: fmt.Sprintf("drain %q", subject),
		Message: fmt.Sprintf("drain %q has %s", subject, measured), Section: "1.2", Basis: finding.FromMemory, Verify: "verify with local authority",
		Place: finding.Place{File: "f.json", Line: line, Col: 5, Pointer: "/pipes/0"}, Fingerprint: finding.Fingerprint(rule, subject)}
	if measured != "" {
		f.Measured = &finding.Quantity{Kind: "text", Text: measured}
	}
	return f
}

func review(file string, elements []finding.Element, findings ...finding.Finding) finding.Review {
	r := finding.Review{File: file, Project: finding.Project{Name: "Kiln room", Reference: "KR-1"}, Rules: 3, Findings: findings, Elements: elements,
		Profile: finding.ProfileInfo{ID: "p", Edition: "1", Units: "US"}}
	r.Counts = finding.Count(findings)
	return r
}

// lines renders items shortly.
func lines(b finding.Backcheck) []string {
	var out []string
	for _, i := range b.Items {
		line := fmt.Sprintf("%s %s %s, part %s", i.Status, i.Rule, i.Subject, i.Part)
		if i.Changed {
			line += ", changed answer"
		}
		if i.Why != "" {
			line += ", " + i.Why
		}
		if i.EarlierSubject != "" {
			line += ", was " + i.EarlierSubject
		}
		out = append(out, line)
	}
	return out
}

func TestCompare(t *testing.T) {
	a := element("a", "drain", `{"id":"a","slope":"1 %"}`)
	aSteeper := element("a", "drain", `{"id":"a","slope":"2 %"}`)
	aSpelt := element("a", "drain", "{ \"slope\" : \"1 %\",\n \"id\":\"a\" }")
	b := element("b", "drain", `{"id":"b","slope":"1 %"}`)
	list := func(e ...finding.Element) []finding.Element { return e }
	fail, pass, open, person := finding.Fail, finding.Pass, finding.Open, finding.PersonDecides
	for _, tt := range []struct {
		name           string
		earlier, later finding.Review
		want           []string
	}{
		{"corrected", review("x", list(a), found("r", "a", fail, "1 %", 1)), review("y", list(aSteeper), found("r", "a", pass, "2 %", 9)), []string{"corrected r a, part changed"}},
		{"outstanding", review("x", list(a), found("r", "a", fail, "1 %", 1)), review("y", list(aSpelt), found("r", "a", fail, "1 %", 9)), []string{"outstanding r a, part unchanged"}},
		{"changed answer", review("x", list(a), found("r", "a", fail, "1 %", 1)), review("y", list(aSteeper), found("r", "a", fail, "2 %", 9)), []string{"outstanding r a, part changed, changed answer"}},
		{"shown now, and fails", review("x", list(a), found("r", "a", open, "", 1)), review("y", list(aSteeper), found("r", "a", fail, "2 %", 9)), []string{"outstanding r a, part changed, changed answer"}},
		{"shown now, and passes", review("x", list(a), found("r", "a", open, "", 1)), review("y", list(aSteeper), found("r", "a", pass, "2 %", 9)), []string{"corrected r a, part changed"}},
		{"a person decides now", review("x", list(a), found("r", "a", fail, "1 %", 1)), review("y", list(a), found("r", "a", person, "1 %", 9)), []string{"outstanding r a, part unchanged, changed answer"}},
		{"new on an unchanged part", review("x", list(a), found("r", "a", pass, "1 %", 1)), review("y", list(a), found("r", "a", fail, "3 %", 9)), []string{"new r a, part unchanged, was met"}},
		{"new on a new part", review("x", list(a), found("r", "a", pass, "1 %", 1)), review("y", list(a, b), found("r", "a", pass, "1 %", 1), found("r", "b", fail, "1 %", 9)),
			[]string{"new r b, part added, element added"}},
		{"new rule", review("x", list(a), found("r", "a", pass, "1 %", 1)), review("y", list(a), found("r", "a", pass, "1 %", 1), found("s", "a", fail, "1 %", 9)),
			[]string{"new s a, part unchanged, rule judged nothing before"}},
		{"element removed is not corrected", review("x", list(a, element("z", "drain", `{"id":"z","slope":"4 %"}`)), found("r", "a", pass, "1 %", 1), found("r", "z", fail, "1 %", 2)),
			review("y", list(a), found("r", "a", pass, "1 %", 1)), []string{"dropped r z, part removed, element removed"}},
		{"rule no longer applies", review("x", list(a, b), found("r", "a", fail, "1 %", 1), found("r", "b", pass, "1 %", 2)), review("y", list(aSteeper, b), found("r", "b", pass, "1 %", 2)),
			[]string{"dropped r a, part changed, rule no longer applies"}},
		{"saved without elements", review("x", nil, found("r", "a", pass, "1 %", 1)), review("y", list(a), found("r", "a", fail, "3 %", 9)), []string{"new r a, part unknown, was met"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if diff := cmp.Diff(tt.want, lines(Compare(tt.earlier, tt.later))); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}

// TestRenamedIDs: every id is another, one slope is mended. What cannot be told
// apart is not paired.
func TestRenamedIDs(t *testing.T) {
	earlier := review("x", []finding.Element{
		element("lav-1", "fixture", `{"id":"lav-1","kind":"lavatory"}`),
		element("lav-2", "fixture", `{"id":"lav-2","kind":"lavatory"}`),
		element("j", "junction", `{"id":"j","fitting":"wye"}`),
		element("p1", "drain", `{"id":"p1","from":"lav-1","to":"j","length":"3 ft"}`),
		element("p2", "drain", `{"id":"p2","from":"lav-2","to":"j","length":"4 ft"}`),
		element("p3", "drain", `{"id":"p3","from":"j","to":"out","length":"9 ft","slope":"1 %"}`),
		element("out", "connection", `{"id":"out"}`),
	}, found("r", "p1", finding.Fail, "3 ft", 1), found("r", "p1/bend-1", finding.Fail, "3 ft", 1), found("r", "lav-2", finding.Fail, "x", 1), found("r", "p3", finding.Fail, "1 %", 1))
	later := review("y", []finding.Element{
		element("z3", "drain", `{"to":"zout","id":"z3","from":"zj","slope":"2 %","length":"9 ft"}`),
		element("zout", "connection", `{"id":"zout"}`),
		element("z2", "drain", `{"id":"z2","from":"zlav-2","to":"zj","length":"4 ft"}`),
		element("z1", "drain", `{"id":"z1","from":"zlav-1","to":"zj","length":"3 ft"}`),
		element("zj", "junction", `{"id":"zj","fitting":"wye"}`),
		element("zlav-2", "fixture", `{"id":"zlav-2","kind":"lavatory"}`),
		element("zlav-1", "fixture", `{"id":"zlav-1","kind":"lavatory"}`),
	}, found("r", "z1", finding.Fail, "3 ft", 1), found("r", "z1/bend-1", finding.Fail, "3 ft", 1), found("r", "zlav-2", finding.Fail, "x", 1), found("r", "z3", finding.Fail, "2 %", 1))
	b := Compare(earlier, later)
	want := []string{
		"outstanding r z1, part unchanged, was p1",
		"outstanding r z1/bend-1, part unchanged, was p1/bend-1",
		"outstanding r zlav-2, part unchanged, was lav-2",
		// p3 was mended and renamed at once: nobody can tell that z3 is the same pipe.
		"new r z3, part added, element added",
		"dropped r p3, part removed, element removed",
	}
	slices.Sort(want)
	got := lines(b)
	slices.Sort(got)
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
	if b.Elements.Unchanged != 6 || len(b.Elements.Renamed) != 6 || len(b.Elements.Added) != 1 || len(b.Elements.Removed) != 1 {
		t.Errorf("elements %+v", b.Elements)
	}
}

// TestALongRunWithOtherIDs: three thousand pipes that look alike are told apart
// from the one end that differs, and no round looks at all of them.
func TestALongRunWithOtherIDs(t *testing.T) {
	run := func(name string) finding.Review {
		var elements []finding.Element
		for i := range 3000 {
			elements = append(elements, element(fmt.Sprintf("%sj%d", name, i), "junction", fmt.Sprintf(`{"id":"%sj%d"}`, name, i)),
				element(fmt.Sprintf("%sp%d", name, i), "drain", fmt.Sprintf(`{"id":"%sp%d","from":"%sj%d","to":"%sj%d"}`, name, i, name, i, name, i+1)))
		}
		return review("f", append(elements, element(name+"j3000", "connection", fmt.Sprintf(`{"id":"%sj3000"}`, name))))
	}
	b := Compare(run("a"), run("b"))
	if b.Elements.Unchanged != 6001 || len(b.Elements.Renamed) != 6001 {
		t.Errorf("%d unchanged, %d renamed, %d added", b.Elements.Unchanged, len(b.Elements.Renamed), len(b.Elements.Added))
	}
}

func TestIDsGivenToOthers(t *testing.T) {
	earlier := review("x", []finding.Element{element("a", "fixture", `{"id":"a"}`), element("b", "drain", `{"id":"b","length":"3 ft"}`)},
		found("r", "a", finding.Fail, "1", 1), found("r", "b", finding.Fail, "2", 2))
	later := review("y", []finding.Element{element("a", "drain", `{"id":"a","length":"3 ft"}`)}, found("r", "a", finding.Fail, "2", 2))
	want := []string{"outstanding r a, part unchanged, was b", "dropped r a, part removed, element removed"}
	if diff := cmp.Diff(want, lines(Compare(earlier, later))); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestKeysThatChanged(t *testing.T) {
	b := Compare(review("x", []finding.Element{element("a", "drain", `{"id":"a","slope":"1 %","size":"2 in","trap":{"seal":"5 in","size":"2 in"},"joints":[{"k":1},{"k":2}]}`)}),
		review("y", []finding.Element{element("a", "drain", `{"id":"a","slope":"2 %","bends":[],"trap":{"size":"2 in","seal":"6 in"},"joints":[{"k":1},{"k":3}]}`)}))
	want := []finding.ElementChange{{ElementName: finding.ElementName{ID: "a", Kind: "drain"}, Keys: []finding.KeyChange{
		{Key: "bends", Later: "[]"}, {Key: "joints/1/k", Earlier: "2", Later: "3"}, {Key: "size", Earlier: `"2 in"`}, {Key: "slope", Earlier: `"1 %"`, Later: `"2 %"`},
		{Key: "trap/seal", Earlier: `"5 in"`, Later: `"6 in"`}}}}
	if diff := cmp.Diff(want, b.Elements.Changed); diff != "" {
		t.Errorf("-want +got:\n%s", diff)
	}
}

func TestNotices(t *testing.T) {
	a, b := review("x", nil), review("y", []finding.Element{element("a", "drain", `{"id":"a"}`)})
	b.Project.Reference, b.Profile.ID = "KR-2", "q"
	var codes []string
	for _, n := range Compare(a, b).Notices {
		codes = append(codes, n.Code)
	}
	if diff := cmp.Diff([]string{"other_project", "other_profile", "no_elements"}, codes); diff != "" {
		t.Error(diff)
	}
}

// some makes a review with a random part of the rules, subjects and outcomes.
func some(r *rand.Rand) finding.Review {
	outcomes := []finding.Outcome{finding.Fail, finding.Pass, finding.Open, finding.PersonDecides}
	var findings []finding.Finding
	var elements []finding.Element
	for i := range 8 {
		id := string(rune('a' + i))
		if r.IntN(5) == 0 {
			id += "x" // another id
		}
		if r.IntN(6) > 0 {
			elements = append(elements, element(id, "drain", fmt.Sprintf(`{"id":%q,"from":%q,"length":"%d ft"}`, id, string(rune('a'+r.IntN(8))), i/2+8*r.IntN(2))))
			for _, rule := range []string{"r", "s"} {
				if r.IntN(4) > 0 {
					findings = append(findings, found(rule, id, outcomes[r.IntN(4)], fmt.Sprint(r.IntN(2)), r.IntN(50)))
				}
			}
		}
	}
	r.Shuffle(len(elements), func(i, j int) { elements[i], elements[j] = elements[j], elements[i] })
	return review("f.json", elements, findings...)
}

// TestLaws: compared with itself nothing is corrected or new; what one way
// corrects is new the other way, and what is dropped was not judged.
func TestLaws(t *testing.T) {
	seen := map[finding.Status]int{}
	for seed := range uint64(2000) {
		r := rand.New(rand.NewPCG(seed, 1))
		x, y := some(r), some(r)
		for _, i := range Compare(x, x).Items {
			if i.Status != finding.Outstanding || i.Changed || i.Part != finding.Unchanged {
				t.Fatalf("seed %d: with itself: %s %s %s, part %s", seed, i.Status, i.Rule, i.Subject, i.Part)
			}
		}
		there, back := Compare(x, y), Compare(y, x)
		pairs := func(b finding.Backcheck, status finding.Status, forward bool, judged bool) []string {
			var out []string
			for _, i := range b.Items {
				if i.Status != status || (status == finding.New && (i.Earlier != nil) != judged) {
					continue
				}
				seen[i.Status]++
				a, b := i.Earlier, i.Later
				if !forward {
					a, b = b, a
				}
				out = append(out, i.Rule+" "+message(a)+" > "+message(b))
			}
			slices.Sort(out)
			return out
		}
		if diff := cmp.Diff(pairs(there, finding.Corrected, true, true), pairs(back, finding.New, false, true)); diff != "" {
			t.Fatalf("seed %d: corrected there, new back:\n%s", seed, diff)
		}
		if diff := cmp.Diff(pairs(there, finding.Dropped, true, false), pairs(back, finding.New, false, false)); diff != "" {
			t.Fatalf("seed %d: dropped there, new back:\n%s", seed, diff)
		}
		if diff := cmp.Diff(pairs(there, finding.Outstanding, true, true), pairs(back, finding.Outstanding, false, true)); diff != "" {
			t.Fatalf("seed %d: outstanding there and back:\n%s", seed, diff)
		}
		if n := there.Counts; n.Outstanding+n.New != y.Counts.Fail+y.Counts.Open+y.Counts.Review {
			t.Fatalf("seed %d: %d outstanding and %d new of %+v", seed, n.Outstanding, n.New, y.Counts)
		}
		shuffled := y
		shuffled.Elements = slices.Clone(y.Elements)
		slices.Reverse(shuffled.Elements)
		if diff := cmp.Diff(there, Compare(x, shuffled)); diff != "" {
			t.Fatalf("seed %d: the order of elements counts:\n%s", seed, diff)
		}
	}
	for _, s := range []finding.Status{finding.Outstanding, finding.New, finding.Corrected, finding.Dropped} {
		if seen[s] < 500 {
			t.Errorf("%d items are %s: the laws were hardly tried", seen[s], s)
		}
	}
}

func message(a *finding.Answer) string {
	if a == nil {
		return "nothing"
	}
	return a.Message
}

// TestReferencesAreThoseOfTheSchema: every key of a design that holds an id of
// an element is known here, and no other.
func TestReferencesAreThoseOfTheSchema(t *testing.T) {
	raw, err := schema.Raw("design")
	if err != nil {
		t.Fatal(err)
	}
	var root struct {
		Defs map[string]struct {
			Properties map[string]struct {
				Ref   string `json:"$ref"`
				Items struct {
					Ref string `json:"$ref"`
				} `json:"items"`
			} `json:"properties"`
		} `json:"$defs"`
	}
	if err := json.Unmarshal(raw, &root); err != nil {
		t.Fatal(err)
	}
	got := map[string]bool{}
	for _, def := range root.Defs {
		for key, p := range def.Properties {
			isID := strings.HasSuffix(p.Ref, "/id") || strings.HasSuffix(p.Items.Ref, "/id")
			if got[key] = got[key] || isID; !got[key] {
				delete(got, key)
			}
			if !isID && references[key] && p.Ref != "" {
				t.Errorf("%q holds an id in one place and something else in another", key)
			}
		}
	}
	if diff := cmp.Diff(references, got); diff != "" {
		t.Errorf("-known +schema:\n%s", diff)
	}
}
