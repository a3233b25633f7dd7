package policy

import (
	"errors"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"backpitch/engine/facts"
	"backpitch/engine/profile"
)

func TestPrepareRefuses(t *testing.T) {
	for _, tt := range []struct {
		name, old, new, at, want, hint string
	}{
		{"a misspelt fact", "p.slope, limit", "p.slpe, limit", "25:31", `p.slpe: there is no "slpe"`, `did you mean "slope"? There is `},
		{"a fact unlike any", "p.slope, limit", "p.gradientum, limit", "25:31", `there is no "gradientum"`, ` basin_id, `},
		{"a misspelt group", "input.drains", "input.drain", "21:12", `input.drain: there is no "drain"`, `did you mean "drains"?`},
		{"a syntax error", "some id, p in subject", "some id, p in subject)", "26:23", `unexpected ) token`, ``},
		{"a word compared with a number", "limit := data.profile.drain.min_slope[p.size]", "limit := data.profile.drain.min_slope[p.size]\n\tp.size + 1 > 2", "28:2", `plus: invalid argument(s)`, `do not go together`},
		{"an undeclared table", "min_slope[p.size]", "min_slop[p.size]", "27:11", `the rule reads "drain.min_slop", which its METADATA does not declare`, `tables`},
		{"all of the profile", "data.profile.drain.min_slope[p.size]", "object.get(data.profile, p.size, 1)", "27:22", `a rule cannot read all of the profile`, ``},
		{"a table by object.get", "data.profile.drain.min_slope[p.size]", `object.get(data.profile, ["drain", "slope"], 1)`, "27:22", `the rule reads "drain.slope"`, ``},
		{"another rule", "limit := data", "data.rules.drain.too_steep.verdict[id]\n\tlimit := data", "27:2", `a rule cannot read another rule`, ``},
		{"other data", "limit := data", "data.secrets.key\n\tlimit := data", "27:2", `data.secrets.key is not there`, ``},
		{"an import of another rule", "import data.lib.judge", "import data.lib.judge\nimport data.rules.x", "19:1", `data.rules.x cannot be imported`, ``},
		{"the network", "some id, p in subject", "some id, p in subject\n\thttp.send({}).status == 1", "27:2", `undefined function http.send`, `no network`},
		{"a function of the engine", "some id, p in subject", "some id, p in subject\n\tbackpitch.judge.is_true(p.vertical)", "27:2", `undefined function backpitch.judge.is_true`, `data.lib`},
		{"the clock", "some id, p in subject", "some id, p in subject\n\ttime.now_ns() > 1", "27:2", `undefined function time.now_ns`, `clock`},
		{"the environment", "some id, p in subject", "some id, p in subject\n\topa.runtime().env != {}", "27:2", `undefined function opa.runtime`, `environment`},
		{"chance", "some id, p in subject", "some id, p in subject\n\trand.intn(id, 3) == 1", "27:2", `undefined function rand.intn`, `chance`},
		{"a call that fills the memory", "some id, p in subject", "some id, p in subject\n\tbits.lsh(1, 4000000000) > 1", "27:2", `undefined function bits.lsh`, `memory`},
		{"an unused variable", "some id, p in subject", "some id, p in subject\n\tunused := 1", "27:2", `assigned var unused unused`, `take the line out`},
		{"a name without a value", "limit := data", "lmit := data", "25:16", `var limit is unsafe`, `nothing gives "limit" a value`},
		{"a body without if", " if {\n\tsome id", " {\n\tsome id", "25:1", `keyword is required`, `write if before the {`},
		{"an argument too few", "p.slope, limit)", "p.slope)", "25:16", `has arity 2`, `at_least takes 2 arguments`},
		{"a misspelt helper", "judge.at_least", "judge.at_lest", "25:16", `undefined function data.lib.judge.at_lest`, `did you mean "judge.at_least"?`},
		{"single quotes", `"vertical"`, `'vertical'`, "22:15", `illegal token`, `double quotes`},
		{"a second value", "limit := data", "id := 3\n\tlimit := data", "27:2", `var id declared above`, `compare with ==`},
		{"an import nobody needs", "import data.lib.judge", "import data.lib.judge\nimport data.lib.table", "19:1", `import data.lib.table unused`, `take the import out`},
		{"another package", "package rules.drain.too_flat", "package rules.drain.flat", "16:1", `the package is rules.drain.flat; the rule "drain/too_flat" has package rules.drain.too_flat`, ``},
		{"no subject", "subject[p.id]", "subjects[p.id]", "16:1", `the rule has no subject`, `write subject`},
		{"one verdict for all", "verdict[id] := judge.at_least(p.slope, limit)", "verdict := judge.at_least(p.slope, limit)", "25:1", `verdict is an object with one entry for each subject`, ``},
		{"a subject found by an optional fact", `not p.lie == "vertical"`, `p.lie == "horizontal"`, "22:2", `where p.lie is not stated, the subject is lost without a word`, `turn it round`},
		{"a negation that is lost", `not p.lie == "vertical"`, `not p.lie in {"vertical"}`, "22:2", `where p.lie is not there, this line is neither true nor false`, `helper`},
		{"a comparison that is lost", `not p.lie == "vertical"`, `not p.slope > 3`, "22:2", `where p.slope is not there`, `helper`},
		{"no METADATA", "# METADATA\n", "# METADATUM\n", "16:1", `the rule has no METADATA`, ``},
		{"no schema", "# schemas:\n#   - input: schema.facts\n", "", "1:1", `METADATA does not bind input to the facts schema`, ``},
		{"no title", "# title: Too flat\n", "", "1:1", `METADATA has no title`, ``},
		{"an unknown key", "#   status: stable", "#   status: stable\n#   severity: high", "16:5", `METADATA: there is no custom "severity"`, ``},
		{"a key that is missing", "#   remedy: \"Increase the fall.\"\n", "", "1:1", `METADATA lacks custom "remedy"`, ``},
		{"an unknown level", "level: error", "level: eror", "7:5", `METADATA: "eror" is no level`, `did you mean "error"?`},
		{"an unknown kind", "quantity: slope", "quantity: slop", "9:5", `METADATA: "slop" is no quantity`, `did you mean "slope"?`},
		{"an unknown placeholder", "{measured}", "{mesured}", "10:5", `there is no placeholder {mesured}`, `{fact:name}`},
		{"an unknown fact in the message", "{fact:size}", "{fact:sice}", "10:5", `METADATA: message: there is no fact "sice" in drains`, `did you mean "size"`},
		{"a brace left open", "({fact:size})", "({fact:size)", "10:5", `a brace is not closed`, ``},
		{"an unknown need", "needs: [slope, size]", "needs: [slope, sise]", "13:5", `METADATA: needs: there is no fact "sise" in drains`, `did you mean "size"?`},
		{"an unknown need of the building", "needs: [slope, size]", "needs: [slope, building.uses]", "13:5", `there is no fact "uses" of the building`, `did you mean "use"?`},
		{"needs that are no list", "needs: [slope, size]", "needs: slope", "13:5", `METADATA: needs is not a list`, ``},
		{"a need named twice", "needs: [slope, size]", "needs: [size, size]", "13:5", `METADATA: needs names "size" twice`, ``},
	} {
		t.Run(tt.name, func(t *testing.T) {
			if strings.Count(tooFlat, tt.old) != 1 {
				t.Fatalf("%q stands %d times in the rule", tt.old, strings.Count(tooFlat, tt.old))
			}
			_, err := prepareRules(t, map[string]string{"drain/too_flat": strings.Replace(tooFlat, tt.old, tt.new, 1)})
			wantError(t, err, "drain/too_flat", "rules/drain/too_flat.rego:"+tt.at, tt.want, tt.hint)
		})
	}
}

func TestPrepareRefusesSets(t *testing.T) {
	t.Run("two modules for one rule", func(t *testing.T) {
		fsys := policiesFS(t, map[string]string{"drain/too_flat": tooFlat})
		fsys["profiles/p/rules/drain/too_flat.rego"] = fsys["rules/drain/too_flat.rego"]
		p, err := profile.Load(fsys, "p")
		if err != nil {
			t.Fatal(err)
		}
		_, err = Prepare(t.Context(), fsys, p)
		wantError(t, err, "drain/too_flat", "profiles/p/rules", `the rule "drain/too_flat" stands in rules/drain/too_flat.rego too`, "another name")
	})
	t.Run("a helper that does not parse", func(t *testing.T) {
		fsys := policiesFS(t, map[string]string{"drain/too_flat": tooFlat})
		fsys["lib/judge.rego"] = &fstest.MapFile{Data: []byte("package lib.judge\n\nx := (")}
		p, err := profile.Load(fsys, "p")
		if err != nil {
			t.Fatal(err)
		}
		_, err = Prepare(t.Context(), fsys, p)
		wantError(t, err, "", "lib/judge.rego:3:", "unexpected", "")
	})
	t.Run("an empty file", func(t *testing.T) {
		_, err := prepareRules(t, map[string]string{"drain/too_flat": ""})
		wantError(t, err, "drain/too_flat", "rules/drain/too_flat.rego", "empty", "")
	})
	t.Run("a rule that is gone", func(t *testing.T) {
		fsys := policiesFS(t, map[string]string{"drain/too_flat": tooFlat})
		p, err := profile.Load(fsys, "p")
		if err != nil {
			t.Fatal(err)
		}
		delete(fsys, "rules/drain/too_flat.rego")
		_, err = Prepare(t.Context(), fsys, p)
		wantError(t, err, "drain/too_flat", "", `the adopted rule "drain/too_flat" does not exist`, "")
	})
}

func TestJudgeRefusesBrokenRules(t *testing.T) {
	for _, tt := range []struct{ name, body, at, want string }{
		{"two verdicts", everyDrain + `verdict[id] := judge.is_true(p.dead_end) if some id, p in subject

verdict[id] := judge.is_false(p.dead_end) if {
	some id, p in subject
	p.id == "b"
}`, "", `the rule gives two verdicts for "b"`},
		{"two subjects of one name", `subject[p.role] := p if some p in input.drains

verdict[id] := judge.is_true(p.dead_end) if some id, p in subject`, "", `the rule gives two answers for one subject`},
		{"a verdict for what is no subject", `subject[p.id] := p if {
	some p in input.drains
	p.id == "a"
}

verdict[p.id] := judge.is_true(p.dead_end) if some p in input.drains`, ":25:1", `the rule gives a verdict for "b", which is not among its subjects`},
		{"a verdict of its own making", everyDrain + `verdict[id] := {"outcome": "pass"} if some id, _ in subject`, ":22:1", `the verdict for "a" is not one of lib.judge: op is ""`},
		{"a word for a verdict", everyDrain + `verdict[id] := "pass" if some id, _ in subject`, "", `"pass" is not an object`},
		{"an outcome of its own", everyDrain + `verdict[id] := object.union(judge.is_true(true), {"outcome": "open"}) if some id, _ in subject`, "", `outcome is "open"`},
		{"more than a verdict", everyDrain + `verdict[id] := object.union(judge.is_true(true), {"level": "note"}) if some id, _ in subject`, "", `level is "note"`},
		{"nothing measured", everyDrain + `verdict[id] := object.remove(judge.is_true(true), ["measured"]) if some id, _ in subject`, "", `measured or limit is missing`},
		{"a subject named by a number", `subject[i] := p if some i, p in input.drains

verdict[id] := judge.is_true(p.dead_end) if some id, p in subject`, ":20:1", `a subject is named by 0, not by its id`},
		{"a division by nothing", everyDrain + `verdict[id] := judge.at_least(1 / p.fixtures, 1) if some id, p in subject`, ":22:31", `div: divide by zero`},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := rule("x/y", "", "", tt.body+"\n")
			if !strings.Contains(tt.body, "judge.") {
				text = strings.Replace(text, "import data.lib.judge\n", "\n", 1)
			}
			p := mustPrepare(t, map[string]string{"drain/too_flat": tooFlat, "x/y": text})
			got, err := p.Judge(t.Context(), &facts.Facts{Drains: []facts.Drain{
				{ID: "a", Role: "branch"}, {ID: "b", Role: "branch", DeadEnd: true}}})
			wantError(t, err, "x/y", "rules/x/y.rego"+tt.at, tt.want, "")
			if got != nil {
				t.Errorf("a broken rule left %d verdicts", len(got))
			}
		})
	}
}

// wantError looks for an error of the rule, at the place, with the message.
func wantError(t *testing.T, err error, rule, place, message, hint string) {
	t.Helper()
	var list Errors
	if one, ok := err.(*Error); ok {
		list = Errors{one}
	} else if !errors.As(err, &list) {
		t.Fatalf("error = %v, want one with %q", err, message)
	}
	for _, e := range list {
		if e.Rule == rule && strings.HasPrefix(e.Error(), place) && strings.Contains(e.Message, message) && strings.Contains(e.Hint, hint) {
			return
		}
	}
	t.Errorf("errors = %v (hint %q)\nwant %s %s, hint %q", list, list.HintText(), place, message, hint)
}

func TestHelpersAreThere(t *testing.T) {
	library, err := readLibrary(os.DirFS("../../policies"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range helpers {
		file, function, _ := strings.Cut(name, ".")
		found := false
		for _, r := range library["lib/"+file+".rego"].Rules {
			found = found || word(r.Head.Ref()[0].Value) == function
		}
		if !found {
			t.Errorf("policies/lib has no %s", name)
		}
	}
}
