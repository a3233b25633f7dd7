package main

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"sync/atomic"
	"time"

	"backpitch/testdata/designs/random"
	"backpitch/testdata/designs/varied"
)

// batch measures many different designs on two cores against opa exec on the
// facts of some of them.
func (b *bench) batch() error {
	designs, compared, runs := 10_000, 1_000, 3
	if b.quick {
		designs, compared = 1_000, 100
	}
	in, some, facts := filepath.Join(b.work, "in"), filepath.Join(b.work, "some"), filepath.Join(b.work, "facts")
	made, err := lay(in, some, designs, compared)
	if err != nil {
		return err
	}
	if err := b.factsOf(some, facts); err != nil {
		return err
	}
	env := []string{"GOMAXPROCS=2"}
	own := command{b.backpitch, []string{"review", "--profile", profileID, "--jobs", "2", "--format", "csv", "--fail-on", "never", in}, env}
	stock := command{b.opa, []string{"exec", "-b", b.bundle, "--decision", "review/counts", facts}, env}
	if tool, err := exec.LookPath("taskset"); err == nil && runtime.NumCPU() > 2 {
		for _, c := range []*command{&own, &stock} {
			c.args = append([]string{"-c", "0,1", c.name}, c.args...)
			c.name = tool
		}
	}
	got, err := b.inTurns(runs, time.Minute, own, stock)
	if err != nil {
		return err
	}
	if err := b.sameCounts(got[0][0].out, got[1][0].out, designs, compared); err != nil {
		return err
	}
	ownRate, stockRate := float64(designs)/median(got[0], wall), float64(compared)/median(got[1], wall)
	b.say("designs", "%s", made)
	b.say(fmt.Sprintf("backpitch review --jobs 2, %d designs, median of %d", designs, len(got[0])), "%s, %.0f designs/s", medians(got[0], sec), ownRate)
	b.say(fmt.Sprintf("opa exec, facts of %d of them ready made", compared), "%s, %.0f designs/s", medians(got[1], sec), stockRate)
	ownCPU, stockCPU := median(got[0], cpu)/float64(designs), median(got[1], cpu)/float64(compared)
	b.say("processor time of a design", "%s, opa exec %s: %.1f times; two free cores could do %.0f/s at most", ms(ownCPU), ms(stockCPU), stockCPU/ownCPU, 2/ownCPU)
	b.aim(ownRate >= 1000, "1,000 or more", "designs a second, schema and positions included", "%.0f", ownRate)
	b.aim(ownRate >= 5*stockRate, "5 or more", "batch / opa exec, by designs a second", "%.1f", ownRate/stockRate)
	return nil
}

// elements is how many a random design has that is as large as the demo.
const elements = 51

// lay writes different designs about as large as the demo: half of them
// variations of it, half random ones. The first of them go into a folder of
// their own as well. It returns what was made.
func lay(all, some string, designs, compared int) (made string, err error) {
	demo, err := os.ReadFile(demoFile)
	if err != nil {
		return "", err
	}
	var bytes [2]int
	for i := range designs {
		text := varied.Variation(demo, uint64(i))
		if i%2 == 1 {
			text = random.Design(uint64(i), elements)
		}
		bytes[i%2] += len(text)
		name := fmt.Sprintf("%03d/%05d.json", i/100, i)
		folders := []string{all}
		if i < compared {
			folders = append(folders, some)
		}
		for _, folder := range folders {
			file := filepath.Join(folder, name)
			if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
				return "", err
			}
			if err := os.WriteFile(file, text, 0o644); err != nil {
				return "", err
			}
		}
	}
	half := float64(designs) / 2
	return fmt.Sprintf("%d, all different: half variations of the demo (%.1f KB each), half random ones of about %d elements (%.1f KB)",
		designs, float64(bytes[0])/half/1e3, elements, float64(bytes[1])/half/1e3), nil
}

// factsOf writes the facts of every design of a folder into another.
func (b *bench) factsOf(designs, facts string) error {
	files, err := filepath.Glob(designs + "/*/*.json")
	if err != nil {
		return err
	}
	if err := os.MkdirAll(facts, 0o755); err != nil {
		return err
	}
	var next atomic.Int64
	errs := make([]error, runtime.NumCPU())
	var wg sync.WaitGroup
	for w := range errs {
		wg.Go(func() {
			for i := next.Add(1) - 1; int(i) < len(files) && errs[w] == nil; i = next.Add(1) - 1 {
				_, errs[w] = output(b.backpitch, "facts", "--profile", profileID, "--output", filepath.Join(facts, filepath.Base(files[i])), files[i])
			}
		})
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// sameCounts holds the outcomes of both sides against each other, design by
// design.
func (b *bench) sameCounts(own, stock []byte, designs, compared int) error {
	files, err := counted(string(own))
	if err != nil {
		return err
	}
	byName := map[string]map[string]int{}
	for file, counts := range files {
		byName[filepath.Base(file)] = counts
	}
	var said struct {
		Result []struct {
			Path   string         `json:"path"`
			Result map[string]int `json:"result"`
		} `json:"result"`
	}
	if err := json.Unmarshal(stock, &said); err != nil {
		return fmt.Errorf("opa exec printed %s: %w", tail(string(stock)), err)
	}
	if len(byName) != designs || len(said.Result) != compared {
		return fmt.Errorf("%d of %d designs were reviewed, opa exec judged %d of %d", len(byName), designs, len(said.Result), compared)
	}
	for _, r := range said.Result {
		if counts := byName[filepath.Base(r.Path)]; !maps.Equal(counts, r.Result) {
			b.differs("%s: backpitch %v, opa exec %v", filepath.Base(r.Path), counts, r.Result)
			if len(b.differ) > 10 {
				return nil
			}
		}
	}
	return nil
}
