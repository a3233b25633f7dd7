//go:build ignore

// Command outcomes compares what backpitch and stock OPA say of the same
// designs: outcomes OWN.ndjson EXEC.json EVAL-FOLDER. The first is written by
// "backpitch review --format ndjson", the second by "opa exec --decision
// review/outcome", the folder by "opa eval" of outcomes and counts.
package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// outcome is the word by rule and subject.
type outcome map[string]map[string]string

type counts struct{ Fail, Open, Pass, Review int }

type review struct {
	outcome outcome
	counts  counts
}

func main() {
	if err := compare(os.Args[1], os.Args[2], os.Args[3]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func compare(ownFile, execFile, evalFolder string) error {
	own, err := readOwn(ownFile)
	if err != nil {
		return err
	}
	var exec struct {
		Result []struct {
			Path   string
			Result outcome
		}
	}
	if err := readJSON(execFile, &exec); err != nil {
		return err
	}
	if len(own) == 0 || len(exec.Result) != len(own) {
		return fmt.Errorf("backpitch reviewed %d designs, opa exec answered for %d", len(own), len(exec.Result))
	}
	different, seen := 0, map[string]bool{}
	var sum counts
	for _, r := range exec.Result {
		name := filepath.Base(r.Path)
		mine, ok := own[name]
		if !ok || seen[name] {
			return fmt.Errorf("opa exec answers for %s, once more or without a review", name)
		}
		seen[name] = true
		different += differences(name, mine.outcome, r.Result)
		sum.Fail, sum.Open, sum.Pass, sum.Review = sum.Fail+mine.counts.Fail, sum.Open+mine.counts.Open, sum.Pass+mine.counts.Pass, sum.Review+mine.counts.Review
	}
	files, err := filepath.Glob(filepath.Join(evalFolder, "*.json"))
	if err != nil || len(files) == 0 {
		return fmt.Errorf("no answers of opa eval in %s: %w", evalFolder, err)
	}
	for _, file := range files {
		var r struct {
			Outcome outcome
			Counts  counts
		}
		if err := readJSON(file, &r); err != nil {
			return err
		}
		name := filepath.Base(file)
		different += differences(name+" (eval)", own[name].outcome, r.Outcome)
		if r.Counts != own[name].counts {
			different++
			fmt.Printf("%s: opa eval counts %+v, backpitch %+v\n", name, r.Counts, own[name].counts)
		}
	}
	total := sum.Fail + sum.Open + sum.Pass + sum.Review
	fmt.Printf("%d designs by opa exec, %d of them by opa eval; %d outcomes: %d pass, %d fail, %d open, %d review; %d differ\n",
		len(seen), len(files), total, sum.Pass, sum.Fail, sum.Open, sum.Review, different)
	if different > 0 {
		return errors.New("the outcomes are not the same")
	}
	return nil
}

// readOwn reads reviews by the name of their file.
func readOwn(file string) (map[string]review, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	out := map[string]review{}
	for d := json.NewDecoder(bufio.NewReader(f)); ; {
		var r struct {
			File, Failure string
			Problems      []any
			Counts        counts
			Findings      []struct{ Rule, Subject, Outcome string }
		}
		if err := d.Decode(&r); err == io.EOF {
			return out, nil
		} else if err != nil {
			return nil, fmt.Errorf("%s: %w", file, err)
		}
		if r.Failure != "" || len(r.Problems) > 0 {
			return nil, fmt.Errorf("%s was not checked: %s %v", r.File, r.Failure, r.Problems)
		}
		o := outcome{}
		for _, x := range r.Findings {
			if o[x.Rule] == nil {
				o[x.Rule] = map[string]string{}
			}
			if _, twice := o[x.Rule][x.Subject]; twice {
				return nil, fmt.Errorf("%s: two outcomes of %s for %s", r.File, x.Rule, x.Subject)
			}
			o[x.Rule][x.Subject] = x.Outcome
		}
		out[filepath.Base(r.File)] = review{o, r.Counts}
	}
}

func readJSON(file string, into any) error {
	data, err := os.ReadFile(file)
	if err == nil {
		err = json.Unmarshal(data, into)
	}
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	return nil
}

// differences prints and counts what one side says and the other does not.
func differences(name string, own, stock outcome) int {
	n := 0
	told := func(rule, subject, mine, theirs string) {
		if n++; n <= 20 {
			fmt.Printf("%s: %s %s is %q here and %q by opa\n", name, rule, subject, mine, theirs)
		}
	}
	for rule, subjects := range own {
		for subject, word := range subjects {
			if theirs := stock[rule][subject]; theirs != word {
				told(rule, subject, word, theirs)
			}
		}
	}
	for rule, subjects := range stock {
		for subject, word := range subjects {
			if own[rule][subject] == "" {
				told(rule, subject, "", word)
			}
		}
	}
	return n
}
