package proof

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"backpitch/engine"
	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/plant"
	"backpitch/engine/profile"
)

// lawFile is what is read here of testdata/references/law: designs at a figure
// of public law and just beyond it.
type lawFile struct {
	Profile string
	Cases   []struct {
		ID, Design, Rule, Subject string
		BeyondSubject             string `json:"beyond_subject"`
		Setup, Beyond             []plant.Operation
		AtLimit                   []plant.Operation `json:"at_limit"`
		Unasked                   bool              `json:"unasked_at_limit"`
	}
}

// published turns the cases of public law into facts, by profile.
func published(t *testing.T, profiles map[string]*profile.Profile) map[string][]Case {
	t.Helper()
	files, err := filepath.Glob("../../testdata/references/law/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no public law: %v", err)
	}
	out := map[string][]Case{}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var law lawFile
		if err := json.Unmarshal(data, &law); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		p := profiles[law.Profile]
		if p == nil {
			t.Fatalf("%s: there is no profile %q", file, law.Profile)
		}
		for _, c := range law.Cases {
			subject := c.BeyondSubject
			if subject == "" {
				subject = c.Subject
			}
			if !c.Unasked {
				out[p.ID] = append(out[p.ID], lawCase(t, p, c.ID+" at the limit", c.Rule, c.Subject, finding.Pass, c.Design, c.Setup, c.AtLimit))
			}
			out[p.ID] = append(out[p.ID], lawCase(t, p, c.ID+" beyond", c.Rule, subject, finding.Fail, c.Design, c.Setup, c.Beyond))
		}
	}
	return out
}

func lawCase(t *testing.T, p *profile.Profile, what, rule, subject string, want finding.Outcome, base string, patches ...[]plant.Operation) Case {
	t.Helper()
	file := "../../testdata/references/worked/designs/" + base + ".json"
	if base == "pottery-studio" {
		file = "../../testdata/designs/pottery-studio.json"
	}
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	called := plant.Operation{Op: "replace", Path: "/project/name", Value: json.RawMessage(`"` + what + `"`)}
	if data, err = (plant.Fault{Name: what, Patch: slices.Concat([]plant.Operation{called}, slices.Concat(patches...))}).Apply(data); err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	doc, problems := design.Read(what, data, design.DefaultLimits())
	if doc == nil || len(problems) > 0 {
		t.Fatalf("%s: %v", what, problems)
	}
	facts, problems := engine.Derive(what, doc, p)
	if facts == nil {
		t.Fatalf("%s: %v", what, problems)
	}
	text, err := json.Marshal(facts)
	if err != nil {
		t.Fatal(err)
	}
	c, err := Published(rule, subject, what, want, text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
