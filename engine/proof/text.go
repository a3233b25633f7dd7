package proof

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// WriteText prints the report for people.
func WriteText(out io.Writer, r *Report) error {
	w := &printer{out: out}
	list(w, "", r.Problems)
	list(w, "note: ", r.Notes)
	if len(r.Problems)+len(r.Notes) > 0 {
		w.printf("\n")
	}
	w.printf("rego tests: %d, %d failed; %d of %d files covered whole\n", r.Tests.Run, r.Tests.Failed, r.Tests.Whole, r.Tests.Files)
	w.printf("\nproofs: for each figure that a rule reads, facts at the limit, one smallest unit beyond, and without each fact needed\n")
	w.table(func(row func(cells ...string)) {
		row("  profile", "adoptions", "numeric, proved", "figures", "boundary", "no limit", "words and flags", "waived", "not proved", "cases")
		for _, p := range r.Profiles {
			row("  "+p.Profile, fmt.Sprint(p.Adoptions), fmt.Sprintf("%d of %d", p.Proved, p.Numeric), fmt.Sprint(p.Figures), fmt.Sprint(p.Boundary),
				fmt.Sprint(p.NoLimit), fmt.Sprint(p.Words), fmt.Sprint(p.Waived), fmt.Sprint(p.Unproved), fmt.Sprint(p.Cases))
		}
	})
	if r.Rules != nil {
		w.scores(r)
	}
	word := "problems"
	if len(r.Problems) == 1 {
		word = "problem"
	}
	w.printf("\n%d %s, %d notes\n", len(r.Problems), word, len(r.Notes))
	return w.err
}

func (w *printer) scores(r *Report) {
	s := r.Rules
	w.printf("\nchanges to the rules: %d%s; noticed %s: %d by rego tests, %d by the proofs alone; %d waived, %d unnoticed; %d more do not compile\n",
		s.Changes, sample(*s), percent(*s), s.Tests, s.Verdict, s.Alike, s.Unseen, s.Refused)
	w.printf("changes to the figures: each number one step up and down, sizes to their neighbours, flags turned, words and rows dropped\n")
	w.table(func(row func(cells ...string)) {
		row("  profile", "changes", "noticed", "by published cases", "by a verdict", "by the kept figures alone", "unnoticed")
		for _, p := range r.Profiles {
			if s := p.Score; s != nil {
				row("  "+p.Profile, fmt.Sprint(s.Changes)+sample(*s), percent(*s), fmt.Sprint(s.Law), fmt.Sprint(s.Verdict), fmt.Sprint(s.Pinned), fmt.Sprint(s.Unseen))
			}
		}
	})
}

func sample(s Score) string {
	if s.Skipped == 0 {
		return ""
	}
	return fmt.Sprintf(" of %d", s.OutOfAll)
}

// percent never says 100 where something is left.
func percent(s Score) string {
	text := fmt.Sprintf("%.1f %%", s.Noticed())
	if s.Unseen > 0 && text == "100.0 %" {
		return "under 100 %"
	}
	return strings.Replace(text, ".0 %", " %", 1)
}

func list(w *printer, label string, problems []Problem) {
	for _, p := range problems {
		text := p.String()
		if p.File == "" {
			text = label + text
		} else if label != "" {
			text = strings.Replace(text, p.Message, label+p.Message, 1)
		}
		w.printf("%s\n", text)
		if p.Hint != "" {
			w.printf("    hint: %s\n", p.Hint)
		}
	}
}

// WriteJSON prints the report as one JSON object.
func WriteJSON(out io.Writer, r *Report) error {
	shown := *r
	if shown.Problems == nil {
		shown.Problems = []Problem{}
	}
	if shown.Notes == nil {
		shown.Notes = []Problem{}
	}
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(shown)
}
