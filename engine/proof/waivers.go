package proof

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"slices"

	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// Waivers say, each with a reason, which figures no verdict can rest on and
// which changes to a rule change nothing.
type Waivers struct {
	Figures []FigureWaiver `json:"figures"`
	Mutants []MutantWaiver `json:"mutants"`
}

// FigureWaiver is about figures that cannot be proved. Empty Profiles or Rows
// stand for all.
type FigureWaiver struct {
	Profiles []string `json:"profiles,omitempty"` // these and what amends them
	Rule     string   `json:"rule"`
	Table    string   `json:"table"`
	Rows     []string `json:"rows,omitempty"`
	Reason   string   `json:"reason"`

	file string
	used bool
}

// MutantWaiver is about a change to a rule that is no change in what it says.
type MutantWaiver struct {
	File   string `json:"file"`
	Was    string `json:"was"`
	Is     string `json:"is"`
	Line   string `json:"line,omitempty"` // the whole line where Was stands more than once
	Reason string `json:"reason"`

	file string
	used bool
}

// waiverFile is where waivers stand: at the top, and in a profile's folder.
const waiverFile = "waivers.json"

// readWaivers reads the top file and those of the profiles, where they exist.
func readWaivers(fsys fs.FS, profiles []string) (*Waivers, error) {
	files := []string{waiverFile}
	for _, id := range profiles {
		files = append(files, "profiles/"+id+"/"+waiverFile)
	}
	all := &Waivers{}
	for _, file := range files {
		data, err := fs.ReadFile(fsys, file)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, fmt.Errorf("reading waivers: %w", err)
		}
		var w Waivers
		dec := json.NewDecoder(bytes.NewReader(data))
		dec.DisallowUnknownFields()
		if err := dec.Decode(&w); err != nil {
			return nil, &profile.Error{File: file, Message: "not a list of waivers: " + err.Error(),
				Hint: `write {"figures": [{"rule": …, "table": …, "reason": …}], "mutants": [{"file": …, "was": …, "is": …, "reason": …}]}`}
		}
		for _, f := range w.Figures {
			if f.Reason == "" {
				return nil, &profile.Error{File: file, Message: fmt.Sprintf("the waiver for %s, %s gives no reason", f.Rule, f.Table)}
			}
			f.file = file
			all.Figures = append(all.Figures, f)
		}
		for _, m := range w.Mutants {
			if m.Reason == "" {
				return nil, &profile.Error{File: file, Message: fmt.Sprintf("the waiver for %s, %q gives no reason", m.File, m.Was)}
			}
			m.file = file
			all.Mutants = append(all.Mutants, m)
		}
	}
	return all, nil
}

// figure returns the waiver for a figure, nil for none.
func (w *Waivers) figure(p *profile.Profile, rule, table, row string) *FigureWaiver {
	for i := range w.Figures {
		f := &w.Figures[i]
		ours := len(f.Profiles) == 0 || slices.ContainsFunc(p.Chain, func(id string) bool { return slices.Contains(f.Profiles, id) })
		if ours && f.Rule == rule && f.Table == table && (len(f.Rows) == 0 || slices.Contains(f.Rows, row)) {
			return f
		}
	}
	return nil
}

func (w *Waivers) mutant(m policy.Mutant) *MutantWaiver {
	for i := range w.Mutants {
		x := &w.Mutants[i]
		if x.File == m.File && x.Was == m.Was && x.Is == m.Is && (x.Line == "" || x.Line == m.Context) {
			return x
		}
	}
	return nil
}
