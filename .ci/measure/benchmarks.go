package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"backpitch/testdata/designs/varied"
)

// figures are the metrics of one benchmark: the median of each over its runs.
type figures map[string]float64

// spent is the processor time of an operation in seconds, or the clock's where
// there is none.
func (f figures) spent() float64 {
	if ns, ok := f["cpu-ns/op"]; ok {
		return ns / 1e9
	}
	return f["ns/op"] / 1e9
}

var benchLine = regexp.MustCompile(`^(Benchmark\S+)\s+\d+\s+(.*)$`)

// benchmarks runs Go benchmarks on one core and returns figures by name,
// without the word Benchmark.
func benchmarks(pattern, time string, count int, packages ...string) (map[string]figures, error) {
	args := []string{"test", "-run", "XXX", "-bench", pattern, "-benchtime", time, "-count", strconv.Itoa(count), "-cpu", "1", "-timeout", "30m"}
	text, err := output("go", append(args, packages...)...)
	if err != nil {
		return nil, err
	}
	runs := map[string]map[string][]float64{}
	for line := range strings.Lines(string(text)) {
		m := benchLine.FindStringSubmatch(strings.TrimSpace(line))
		if m == nil {
			continue
		}
		name := strings.TrimPrefix(m[1], "Benchmark")
		if runs[name] == nil {
			runs[name] = map[string][]float64{}
		}
		parts := strings.Fields(m[2])
		for i := 0; i+1 < len(parts); i += 2 {
			v, err := strconv.ParseFloat(parts[i], 64)
			if err != nil {
				return nil, fmt.Errorf("a line of go test -bench cannot be read: %s", line)
			}
			runs[name][parts[i+1]] = append(runs[name][parts[i+1]], v)
		}
	}
	out := map[string]figures{}
	for name, metrics := range runs {
		out[name] = figures{}
		for unit, list := range metrics {
			out[name][unit] = middle(list)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no benchmark %s ran:\n%s", pattern, tail(string(text)))
	}
	return out, nil
}

func (b *bench) growth() error {
	time, count := "300ms", 3
	if b.quick {
		time, count = "1x", 1
	}
	got, err := benchmarks("^BenchmarkGrowth$", time, count, "./engine")
	if err != nil {
		return err
	}
	sizes := []int{50, 150, 500, 1500, 5000}
	for _, shape := range []string{"wide", "long"} {
		for _, what := range []string{"facts", "review"} {
			var pipes, spent, bytes []float64
			for _, n := range sizes {
				f := got[fmt.Sprintf("Growth/%s/%s/%d", shape, what, n)]
				if f == nil {
					return fmt.Errorf("no figures of %s %s with %d pipes", shape, what, n)
				}
				pipes, spent, bytes = append(pipes, f["pipes"]), append(spent, f.spent()), append(bytes, f["B/op"])
			}
			last := len(sizes) - 1
			tail := growthOf(pipes[2:], spent[2:])
			e, eBytes := growthOf(pipes, spent), growthOf(pipes, bytes)
			title := map[string]string{"wide": "demos side by side", "long": "one long main"}[shape] + ", " + what
			b.say(title, "%s at %.0f pipes, %s at %.0f; %.1f and %.0f MB allocated", ms(spent[0]), pipes[0], ms(spent[last]), pipes[last], bytes[0]/1e6, bytes[last]/1e6)
			b.aim(e <= 1.2, "at most 1.20", title+", exponent of time", "%.2f (from 500 pipes on %.2f)", e, tail)
			b.aim(eBytes <= 1.2, "at most 1.20", title+", exponent of allocated bytes", "%.2f", eBytes)
		}
	}
	return b.largest()
}

// largest runs the program on the largest designs.
func (b *bench) largest() error {
	demo, err := os.ReadFile(demoFile)
	if err != nil {
		return err
	}
	wide, err := varied.Merged(slices.Repeat([][]byte{demo}, 238)...)
	if err != nil {
		return err
	}
	for _, d := range []struct {
		name string
		text []byte
	}{{"demos side by side", wide}, {"one long main", varied.Long(5000)}} {
		file := filepath.Join(b.work, "large.json")
		if err := os.WriteFile(file, d.text, 0o644); err != nil {
			return err
		}
		got, err := b.inTurns(3, 0, command{name: b.backpitch, args: []string{"review", "--profile", profileID, "--format", "csv", file}})
		if err != nil {
			return err
		}
		if _, err := counted(string(got[0][0].out)); err != nil {
			return err
		}
		b.say(fmt.Sprintf("backpitch review of 5,000 pipes, %s (%.1f MB)", d.name, float64(len(d.text))/1e6), "%s", medians(got[0], sec))
	}
	return nil
}

func (b *bench) stages() error {
	time, count := "300ms", 3
	if b.quick {
		time, count = "100ms", 1
	}
	whole, err := benchmarks("^BenchmarkStages$", time, count, "./engine")
	if err != nil {
		return err
	}
	read, err := benchmarks("^BenchmarkStages$", time, count, "./engine/design")
	if err != nil {
		return err
	}
	judge, err := benchmarks("^(BenchmarkStages|BenchmarkPrepare|BenchmarkPrepareCompiled)$", time, count, "./engine/policy")
	if err != nil {
		return err
	}
	missing := ""
	for _, design := range []string{"demo", "1000_pipes"} {
		figure := func(from map[string]figures, name string) figures {
			f := from["Stages/"+design+"/"+name]
			if f == nil {
				missing = design + " " + name
				return figures{}
			}
			return f
		}
		stages := []string{"read", "network", "derive", "judge", "findings", "report_as_text"}
		sum := 0.0
		for _, s := range stages {
			sum += figure(whole, s).spent()
		}
		b.say(strings.ReplaceAll(design, "_", " ")+", whole review, processor time", "%s, garbage collector %.0f %%, %.0f allocations, %.2f MB", ms(figure(whole, "whole").spent()),
			figure(whole, "whole")["gc-%"], figure(whole, "whole")["allocs/op"], figure(whole, "whole")["B/op"]/1e6)
		line := func(name string, f figures) {
			b.say(name, "%9s %5.1f %%  %8.0f allocations", ms(f.spent()), 100*f.spent()/sum, f["allocs/op"])
		}
		for _, s := range stages {
			line("  "+strings.ReplaceAll(s, "_", " "), figure(whole, s))
			switch s {
			case "read":
				for _, part := range []string{"scan", "schema", "decode", "check"} {
					line("    of it "+part, figure(read, part))
				}
			case "judge":
				for _, part := range []string{"values", "evaluate"} {
					line("    of it "+part, figure(judge, part))
				}
			}
		}
		for _, s := range []string{"report_as_csv", "report_as_json"} {
			b.say("  instead: "+strings.ReplaceAll(s, "_", " "), "%9s", ms(figure(whole, s).spent()))
		}
	}
	made, ready := judge["Prepare"], judge["PrepareCompiled"]
	if made == nil || ready == nil {
		missing = "preparing"
	}
	b.say(fmt.Sprintf("preparing %.0f rules, once for a run", made["rules"]), "%s from sources, %s as shipped", ms(made["ns/op"]/1e9), ms(ready["ns/op"]/1e9))
	if missing != "" {
		return fmt.Errorf("no figures of %s", missing)
	}
	b.demoReview = whole["Stages/demo/whole"].spent()
	return nil
}

func (b *bench) plain() error {
	time, count := "500ms", 3
	if b.quick {
		time, count = "200ms", 1
	}
	// The same verdicts first: otherwise there is nothing to compare.
	if _, err := output("go", "test", "-run", "^TestPlainRulesJudgeTheSame$", "./engine/policy"); err != nil {
		b.differs("the rules in Rego and in Go: %v", err)
	}
	got, err := benchmarks("^BenchmarkPlain$", time, count, "./engine/policy")
	if err != nil {
		return err
	}
	for _, design := range []string{"demo", "1000_pipes"} {
		rego, all, plain := got["Plain/"+design+"/Rego"], got["Plain/"+design+"/Rego,_all_rules"], got["Plain/"+design+"/Go"]
		if rego == nil || all == nil || plain == nil {
			return fmt.Errorf("no figures of %s", design)
		}
		name := strings.ReplaceAll(design, "_", " ")
		b.say(name+fmt.Sprintf(", %.0f rules, facts to %.0f verdicts", plain["rules"], plain["verdicts"]), "Rego %s, Go %s: %.0f times", ms(rego.spent()), ms(plain.spent()), rego.spent()/plain.spent())
		inGo := plain.spent() * all.spent() / rego.spent()
		b.say(name+fmt.Sprintf(", all %.0f rules", all["rules"]), "Rego %s, Go by the same ratio about %s", ms(all.spent()), ms(inGo))
		if design == "demo" && b.demoReview > 0 {
			rest := b.demoReview - all.spent() + inGo
			b.say("a whole review of the demo with rules in Go, by sum", "about %s of %s: %.1f times", ms(rest), ms(b.demoReview), b.demoReview/rest)
		}
	}
	return nil
}

var ruleTable = regexp.MustCompile(`(?m)^.*: \d+ rules, each by itself.*\n(?:(?:rule |[a-z_]+/).*\n)+`)

func (b *bench) rules() error {
	times := "5x"
	if b.quick {
		times = "2x"
	}
	text, err := output("go", "test", "-run", "XXX", "-bench", "^BenchmarkEachRule$/^(ipc-2021|demo)$", "-benchtime", times, "./engine/policy")
	if err != nil {
		return err
	}
	tables := ruleTable.FindAllString(string(text), -1)
	if len(tables) != 2 {
		return fmt.Errorf("the benchmark of the rules printed %s", tail(string(text)))
	}
	fmt.Print(strings.Join(tables, "\n"))
	return nil
}
