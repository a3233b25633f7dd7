package engine

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"backpitch/engine/design"
	"backpitch/engine/finding"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// findings joins each verdict with its rule, its citation and its place.
func (r *Reviewer) findings(file string, doc *design.Document, verdicts []policy.Verdict) ([]finding.Finding, error) {
	list := make([]finding.Finding, 0, len(verdicts))
	for _, v := range verdicts {
		rule, ok := r.byID[v.Rule]
		if !ok {
			return nil, fmt.Errorf("rule %s gave a verdict but is not in the catalogue", v.Rule)
		}
		adoption := r.profile.Adopts[v.Rule]
		f := finding.Finding{
			Rule:        rule.ID,
			Title:       rule.Title,
			Level:       rule.Level,
			Outcome:     v.Outcome,
			Subject:     v.Subject,
			SubjectName: subjectName(rule.Subject, v.Subject),
			Section:     adoption.Section,
			Basis:       adoption.Basis,
			Source:      r.profile.SourceTitle(adoption.Source),
			Remedy:      rule.Remedy,
			Verify:      "verify with local authority",
			Missing:     v.Missing,
			Fingerprint: fingerprint(v.Rule, v.Subject),
		}
		if adoption.Level != "" {
			f.Level = adoption.Level
		}
		f.Place = finding.Place{File: file}
		if e, ok := doc.Find(v.Subject); ok {
			f.Place.Line, f.Place.Col, f.Place.Pointer = e.Position.Line, e.Position.Col, e.Position.Pointer
		}
		r.describe(&f, rule, v)
		list = append(list, f)
	}
	finding.Sort(list)
	return list, nil
}

// describe fills what was found and what is required.
func (r *Reviewer) describe(f *finding.Finding, rule profile.Rule, v policy.Verdict) {
	text := renderer{units: r.profile.Units}
	f.Measured = text.quantity(string(rule.Quantity), v.Measured)
	f.Limit = text.quantity(string(rule.Quantity), v.Limit)
	text.apart(f.Measured, f.Limit)
	f.Margin = text.margin(v.Op, f.Measured, f.Limit)
	if f.Limit != nil {
		f.LimitBasis = v.LimitBasis
	}
	switch v.Outcome {
	case finding.Open:
		f.Message = f.SubjectName + " cannot be judged: " + strings.Join(v.Missing, "; ") + " not shown"
	case finding.PersonDecides:
		f.Message = f.SubjectName + ": " + v.Detail
	case finding.Pass:
		f.Message = passMessage(f, v)
	default:
		f.Message = text.message(rule.Message, f.SubjectName, f.Measured, f.Limit, v.Detail, v.Fact)
	}
}

func passMessage(f *finding.Finding, v policy.Verdict) string {
	switch {
	case v.Detail != "":
		return f.SubjectName + ": " + v.Detail
	case f.Measured != nil && f.Limit != nil:
		return fmt.Sprintf("%s meets it: %s against %s", f.SubjectName, f.Measured.Text, f.Limit.Text)
	}
	return f.SubjectName + " meets it"
}

// subjectName is the subject as people say it.
func subjectName(word, id string) string {
	switch id {
	case "project", "building":
		return "the " + id
	}
	return fmt.Sprintf("%s %q", word, id)
}

// fingerprint is the same for one rule and subject whatever the file is called
// and wherever the line is: 16 bytes of a SHA-256 in hexadecimal.
func fingerprint(rule, subject string) string {
	sum := sha256.Sum256([]byte("backpitch/1\n" + rule + "\n" + subject))
	return hex.EncodeToString(sum[:16])
}

// count fills the sums of a review from its findings.
func count(r *finding.Review) {
	subjects := map[string]bool{}
	for _, f := range r.Findings {
		subjects[f.Subject] = true
		switch f.Outcome {
		case finding.Pass:
			r.Counts.Pass++
		case finding.Open:
			r.Counts.Open++
		case finding.PersonDecides:
			r.Counts.Review++
		case finding.Fail:
			r.Counts.Fail++
			switch f.Level {
			case finding.Error:
				r.Counts.Errors++
			case finding.Warning:
				r.Counts.Warnings++
			default:
				r.Counts.Notes++
			}
		}
	}
	r.Subjects = len(subjects)
}
