package approve

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"

	"backpitch/engine/design"
	"backpitch/engine/finding"
)

// Baseline is the failures of existing work that stays as it was.
type Baseline struct {
	name    string
	entries []entry
}

// entry is one failure of the baseline and where it stands.
type entry struct {
	baselineEntry
	place finding.Place
}

// baselineEntry is an entry of schema/baseline.schema.json.
type baselineEntry struct {
	Fingerprint string `json:"fingerprint"`
	Rule        string `json:"rule"`
	Subject     string `json:"subject"`
	Project     string `json:"project,omitempty"`
	Measured    string `json:"measured,omitempty"`
	Element     string `json:"element,omitempty"`
}

func (e baselineEntry) what() string { return fmt.Sprintf("%s for %q", e.Rule, e.Subject) }

type baselineFile struct {
	Schema  string          `json:"$schema,omitempty"`
	Entries []baselineEntry `json:"entries"`
}

// ReadBaseline reads a baseline, or takes the failures of a saved review as
// one. What the saved review shows with an approval is left out: an approval
// may expire, existing work does not.
func ReadBaseline(name string, data []byte, designs design.Limits) (*Baseline, []finding.Problem) {
	if IsSaved(data, designs) {
		return savedBaseline(name, data, designs)
	}
	src, problems := design.ReadSource(name, "baseline", "baseline", data, Limits(designs))
	if src == nil {
		return nil, problems
	}
	var file baselineFile
	if problems := src.Decode(&file); problems != nil {
		return nil, problems
	}
	r := reader{src: src}
	out := &Baseline{name: name}
	first := map[[2]string]int{}
	for i, e := range file.Entries {
		at := "/entries/" + strconv.Itoa(i)
		if e.Fingerprint != finding.Fingerprint(e.Rule, e.Subject) {
			r.add(at+"/fingerprint", "wrong_fingerprint", "this is not the fingerprint of "+e.what(), "copy all three from one finding")
		}
		key := [2]string{e.Fingerprint, e.Project}
		if before, twice := first[key]; twice {
			r.add(at, "duplicate_entry", fmt.Sprintf("%s is already on line %d", e.what(), src.Place("/entries/"+strconv.Itoa(before)).Line), "")
		} else {
			first[key] = i
		}
		out.entries = append(out.entries, entry{baselineEntry: e, place: src.Place(at)})
	}
	if len(r.problems) > 0 {
		finding.SortProblems(r.problems)
		return nil, r.problems
	}
	return out, nil
}

func savedBaseline(name string, data []byte, designs design.Limits) (*Baseline, []finding.Problem) {
	reviews, problems := ReadReviews(name, data, designs)
	if len(problems) > 0 {
		return nil, problems
	}
	out := &Baseline{name: name}
	first := map[string]string{}
	for i, r := range reviews {
		key := r.Project.Key()
		if file, twice := first[key]; twice {
			return nil, []finding.Problem{{Place: finding.Place{File: name, Pointer: fmt.Sprintf("/reviews/%d", i)}, Code: "repeated_project",
				Message: fmt.Sprintf("%q and %q are both of project %q: nobody can tell which is the baseline", file, r.File, key),
				Hint:    "save one review for each project"}}
		}
		first[key] = r.File
		for _, e := range entriesOf(r, r.Findings) {
			out.entries = append(out.entries, entry{baselineEntry: e, place: finding.Place{File: name, Pointer: fmt.Sprintf("/reviews/%d", i)}})
		}
	}
	return out, nil
}

// entriesOf makes entries of the failures among findings of a review.
func entriesOf(r finding.Review, findings []finding.Finding) []baselineEntry {
	digests := map[string]string{}
	for _, e := range r.Elements {
		digests[e.ID] = e.Digest()
	}
	list := []baselineEntry{}
	for _, f := range findings {
		if f.Outcome != finding.Fail || f.Approval != nil {
			continue
		}
		list = append(list, baselineEntry{Fingerprint: f.Fingerprint, Rule: f.Rule, Subject: f.Subject, Project: r.Project.Key(),
			Measured: measured(f), Element: digests[finding.ElementOf(f.Subject)]})
	}
	return list
}

func measured(f finding.Finding) string {
	if f.Measured == nil {
		return ""
	}
	return f.Measured.Text
}

// WriteBaseline writes the failures among findings of a review as a baseline.
func WriteBaseline(w io.Writer, r finding.Review, findings []finding.Finding) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(baselineFile{Schema: "baseline.schema.json", Entries: entriesOf(r, findings)})
}
