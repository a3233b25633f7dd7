package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"
)

// start measures one review in a new process against opa eval: the same rules,
// the same facts, and the answers compared.
func (b *bench) start() error {
	facts := filepath.Join(b.work, "facts.json")
	if _, err := output(b.backpitch, "facts", demoFile, "--profile", profileID, "--output", facts); err != nil {
		return err
	}
	runs := 41
	if b.quick {
		runs = 11
	}
	review := []string{"review", "--profile", profileID, demoFile}
	packed := []string{"review", "--bundle", b.bundle, demoFile}
	eval := []string{"eval", "-b", b.bundle, "-i", facts, "data.review.counts", "--format", "raw"}
	got, err := b.inTurns(runs, 90*time.Second,
		command{name: b.backpitch, args: review},
		command{name: b.opa, args: eval},
		command{name: b.backpitch, args: append(slices.Clone(packed), "--trust-policies")},
		command{name: b.backpitch, args: packed},
		command{name: b.backpitch, args: []string{"--version"}})
	if err != nil {
		return err
	}
	own, stock := got[0], got[1]

	var counts map[string]int
	if err := json.Unmarshal(stock[0].out, &counts); err != nil {
		return fmt.Errorf("opa eval printed %q", tail(string(stock[0].out)))
	}
	for _, args := range [][]string{review, append(slices.Clone(packed), "--trust-policies")} {
		answers, err := b.answers(append(slices.Clone(args), "--format", "csv"))
		if err != nil {
			return err
		}
		if answer := answers[demoFile]; !maps.Equal(answer, counts) {
			b.differs("backpitch %s gives %v, opa eval %v", strings.Join(args, " "), answer, counts)
		}
	}

	b.say("outcomes of both", "%d fail, %d open, %d review, %d pass", counts["fail"], counts["open"], counts["review"], counts["pass"])
	b.say(fmt.Sprintf("backpitch review, median of %d", len(own)), "%s", medians(own, ms))
	b.say("opa eval -b, facts ready made", "%s", medians(stock, ms))
	b.say("backpitch review --bundle --trust-policies", "%s", medians(got[2], ms))
	b.say("backpitch review --bundle, in a process apart that is not counted", "%s", medians(got[3], ms))
	b.say("backpitch --version: the program alone", "%s", medians(got[4], ms))
	ratio := median(own, wall) / median(stock, wall)
	b.aim(ratio <= 0.5, "at most 0.50", "cold start / opa eval, wall", "%.2f", ratio)
	b.say("the same, user+sys", "%.2f", median(own, cpu)/median(stock, cpu))
	b.say("the same bundle / opa eval, wall", "%.2f", median(got[2], wall)/median(stock, wall))
	b.aim(median(own, wall) <= 0.030, "at most 30 ms", "cold start", "%s", ms(median(own, wall)))
	return nil
}

// answers runs a review that prints csv and returns the counts of each file.
func (b *bench) answers(args []string) (map[string]map[string]int, error) {
	c, err := b.measured(b.backpitch, args...)
	if err != nil {
		return nil, err
	}
	return counted(string(c.out))
}

func counted(text string) (map[string]map[string]int, error) {
	lines, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	out := map[string]map[string]int{}
	for _, line := range lines[1:] {
		counts := map[string]int{}
		for i, name := range lines[0] {
			switch name {
			case "fail", "open", "review", "pass":
				if counts[name], err = strconv.Atoi(line[i]); err != nil {
					return nil, fmt.Errorf("%s was not judged: %v", line[0], line)
				}
			case "not checked because":
				if line[i] != "" {
					return nil, fmt.Errorf("%s was not judged: %s", line[0], line[i])
				}
			}
		}
		out[line[0]] = counts
	}
	return out, nil
}
