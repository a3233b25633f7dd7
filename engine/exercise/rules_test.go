package exercise

import (
	"io/fs"
	"strings"
	"testing"
	"time"

	"backpitch/engine/finding"
	"backpitch/policies"
	catalogue "backpitch/testdata/designs"
)

const ruleID = "drain/too_flat"

func ruleKey(t *testing.T) *Key {
	t.Helper()
	k, err := NewRuleKey(t.Context(), policies.FS(), catalogue.Faults(), ruleID, "ipc-2021", []Submission{{File: "pottery-studio.json", Data: file(t, "pottery-studio.json")}})
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func own(t *testing.T) string {
	t.Helper()
	text, err := fs.ReadFile(policies.FS(), "rules/"+ruleID+".rego")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func TestRuleKeyHasCasesOfEveryKind(t *testing.T) {
	k := ruleKey(t)
	outcomes := map[string]map[finding.Outcome]int{}
	for _, c := range k.Rule.Cases {
		if outcomes[c.Kind] == nil {
			outcomes[c.Kind] = map[finding.Outcome]int{}
		}
		outcomes[c.Kind][c.Outcome]++
	}
	for _, kind := range CaseKinds {
		if len(outcomes[kind]) == 0 {
			t.Errorf("no case of kind %s", kind)
		}
	}
	if b := outcomes[CaseBoundary]; b[finding.Pass] == 0 || b[finding.Fail] == 0 {
		t.Errorf("boundary cases %v, want some at the limit and some just beyond", b)
	}
	text, err := k.Encode()
	if err != nil {
		t.Fatal(err)
	}
	if again, problems := ReadKey("key", text); len(problems) > 0 || len(again.Rule.Cases) != len(k.Rule.Cases) {
		t.Errorf("the key does not read back: %v", problems)
	}
}

// TestMarkRule marks rules that are right and rules that are wrong in one way.
func TestMarkRule(t *testing.T) {
	k := ruleKey(t)
	for _, c := range []struct {
		name, old, new string
		wrong          []string // kinds with a mistake
	}{
		{"the right rule", "", "", nil},
		{"always right about flat drains, wrong about the limit itself", "judge.at_least(p.slope, limit)", "judge.at_least(p.slope, limit + 100)", []string{CasePass, CaseBoundary}},
		{"a limit that is too low", "judge.at_least(p.slope, limit)", "judge.at_least(p.slope, limit * 90 / 100)", []string{CaseBoundary}},
		{"everything passes", "judge.at_least(p.slope, limit)", "judge.at_least(limit, limit)", []string{CaseFail, CaseBoundary}},
		{"stacks are judged too", "\tnot p.lie == \"vertical\"\n", "", []string{CaseNotSubject}},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(own(t), c.old, c.new, 1)
			if c.old != "" && text == own(t) {
				t.Fatal("the rule was not changed")
			}
			m := MarkRule(t.Context(), policies.FS(), k, HandedRule{Name: "x", Rego: []byte(text)})
			if m.Problem != "" {
				t.Fatalf("not judged: %s", m.Problem)
			}
			wrong := map[string]bool{}
			for _, mistake := range m.Mistakes {
				wrong[mistake.Kind] = true
			}
			for _, kind := range c.wrong {
				if !wrong[kind] {
					t.Errorf("no mistake of kind %s: %+v", kind, m.Kinds)
				}
			}
			if full := m.Marks == m.Full; full != (c.wrong == nil) {
				t.Errorf("%d of %d marks, mistakes %+v", m.Marks, m.Full, m.Mistakes)
			}
		})
	}
}

func TestMarkRuleRefuses(t *testing.T) {
	k := ruleKey(t)
	change := func(old, new string) []byte { return []byte(strings.Replace(own(t), old, new, 1)) }
	for _, c := range []struct {
		name string
		rule HandedRule
		want string
	}{
		{"a misspelt fact", HandedRule{Rego: change("judge.at_least(p.slope", "judge.at_least(p.slop")}, "rules/drain/too_flat.rego:"},
		{"what is no Rego", HandedRule{Rego: []byte("package rules.drain.too_flat\nverdict[id := 3")}, "rules/drain/too_flat.rego:2:"},
		{"another package", HandedRule{Rego: change("package rules.drain.too_flat", "package rules.drain.flat")}, "package"},
		{"the network", HandedRule{Rego: change("limit := data", "x := http.send({\"method\": \"get\", \"url\": \"http://localhost\"})\n\tx.ok\n\tlimit := data")}, "http.send"},
		{"a profile that is no JSON", HandedRule{Rego: []byte(own(t)), Profile: []byte("{")}, "profile.json is not JSON"},
		{"a profile of a built-in name", HandedRule{Rego: []byte(own(t)), Profile: []byte(`{"id":"chicago"}`)}, "built-in profile chicago"},
		{"a profile that climbs", HandedRule{Rego: []byte(own(t)), Profile: []byte(`{"id":"../x"}`)}, "no id that can be used"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := MarkRule(t.Context(), policies.FS(), k, c.rule)
			if m.Marks != 0 || !strings.Contains(m.Problem+m.Hint, c.want) {
				t.Errorf("%d marks, problem %q (%s), want %q", m.Marks, m.Problem, m.Hint, c.want)
			}
		})
	}
}

// TestEndlessRule holds that a rule that multiplies itself is stopped.
func TestEndlessRule(t *testing.T) {
	k := ruleKey(t)
	k.Rule.Designs, k.Rule.Cases = k.Rule.Designs[:1], []Case{{Kind: CasePass, Subject: "wet-1", Outcome: finding.Pass}}
	text := strings.Replace(own(t), "limit := data", "count([1 | some a in input.drains; some b in input.drains; some c in input.drains; some d in input.drains; some e in input.drains; some f in input.drains; some g in input.drains; a.id == b.id; c.id != d.id; e.id == \"nobody\"]) < 1\n\tsome x in input.drains\n\tsome y in input.drains\n\tsome z in input.drains\n\tx.id < y.id\n\ty.id < z.id\n\tlimit := data", 1)
	began := time.Now()
	m := MarkRule(t.Context(), policies.FS(), k, HandedRule{Rego: []byte(text)})
	if took := time.Since(began); took > 60*time.Second {
		t.Errorf("it took %s", took)
	}
	if m.Problem != "" || m.Marks != 0 || len(m.Mistakes) != 1 || !strings.Contains(m.Mistakes[0].Why, "stopped") {
		t.Errorf("%+v, want one mistake that says the rule was stopped", m)
	}
}

// TestOwnProfile marks a rule with a table of the student's own.
func TestOwnProfile(t *testing.T) {
	k := ruleKey(t)
	m := MarkRule(t.Context(), policies.FS(), k, HandedRule{Rego: []byte(own(t)), Profile: []byte(`{"id":"class-b","title":"b","edition":"1","authority":"class","amends":"ipc-2021","verify":"verify",
		"sources":{"b":{"title":"b","read":"all"}},"tables":{"drain.min_slope":{"rows":{"2 in":{"value":"1/8 in/ft","basis":"from memory","source":"b"}}}}}`)})
	if m.Problem != "" || m.Marks == m.Full || m.Marks == 0 {
		t.Errorf("%d of %d, %s %s; want some mistakes by the wrong limit", m.Marks, m.Full, m.Problem, m.Hint)
	}
}
