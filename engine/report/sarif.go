package report

import (
	"fmt"
	"io"
	"net/url"
	"path/filepath"
	"strings"

	"backpitch/engine/finding"
)

// sarifSink prints a batch as one run of SARIF 2.1.0 (OASIS standard, 27 March
// 2020). Each result has a physical and a logical location; `kind` carries the
// outcome and `level` the level, as section 3.27.9 and 3.27.10 have them;
// partial fingerprints leave out line numbers. Passes are printed too, so that
// "passed" cannot be mistaken for "not looked at".
//
// Results are written as they come. What is known only at the end (the rules
// that occur, the artifacts, the notifications) follows them: the members of a
// JSON object have no order (RFC 8259, section 4).
type sarifSink struct {
	e             *encoder
	o             Options
	results       int
	left          finding.Counts // results left out by MaxResults
	rules         []sarifRule
	index         map[string]int // of each rule in rules
	artifacts     []string       // files; their URIs are made at the end
	notifications spool
	told          int
	broken        bool // a design could not be checked
}

// sarifResultLimit is how many results of a run code hosts take: "Results per
// run: 25,000", docs.github.com, "SARIF results exceed one or more limits".
const sarifResultLimit = 25_000

func newSARIF(w io.Writer, o Options) Sink {
	s := &sarifSink{e: newEncoder(w), o: o, index: map[string]int{}, notifications: spool{open: o.Spool}}
	s.e.raw("{\n  \"$schema\": ")
	s.e.value("  ", "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json")
	s.e.raw(",\n  \"version\": \"2.1.0\",\n  \"runs\": [\n    {\n      \"automationDetails\": ")
	s.e.value("      ", sarifAutomation{ID: "backpitch/review/"})
	s.e.raw(",\n      \"columnKind\": \"unicodeCodePoints\",\n      \"results\": [")
	return s
}

func (s *sarifSink) Review(e Entry) error {
	artifact := len(s.artifacts)
	s.artifacts = append(s.artifacts, e.File)
	for _, f := range e.Findings {
		if s.leavesOut(f) {
			continue
		}
		result := sarifFinding(e.Review, f, s.ruleIndex(e.Profile.ID, f.Rule), artifact)
		result.Suppressions = sarifSuppressions(f, s.o.Marked)
		s.e.item(s.results, "        ", result)
		s.results++
	}
	failures := sarifNotifications(e.Review, artifact)
	s.broken = s.broken || len(failures) > 0
	for _, n := range append(failures, sarifNotices(e.Review)...) {
		s.tell(n)
	}
	return s.e.err
}

// leavesOut counts what a limit leaves out: first the passes, which a code host
// shows to nobody, then what comes after the limit.
func (s *sarifSink) leavesOut(f finding.Finding) bool {
	limit := s.o.MaxResults
	if limit == 0 || f.Outcome != finding.Pass && s.results < limit {
		return false
	}
	s.left = s.left.Add(finding.Count([]finding.Finding{f}))
	return true
}

func (s *sarifSink) leftOut() int { return s.left.Fail + s.left.Open + s.left.Review }

// tell adds a notification to those printed at the end.
func (s *sarifSink) tell(n sarifNotification) {
	if s.e.err != nil {
		return
	}
	e := newEncoder(&s.notifications)
	e.item(s.told, "            ", n)
	s.e.err = e.flush()
	s.told++
}

func (s *sarifSink) Close() error {
	s.tellLimits()
	s.e.endList(s.results, "      ")
	s.e.raw(",\n      \"artifacts\": [")
	for i, file := range s.artifacts {
		s.e.item(i, "        ", sarifArtifact{Location: sarifURI{URI: fileURI(file)}})
	}
	s.e.endList(len(s.artifacts), "      ")
	s.e.raw(",\n      \"invocations\": [\n        {\n          \"executionSuccessful\": ")
	s.e.value("", !s.broken)
	s.e.raw(",\n          \"toolExecutionNotifications\": [")
	s.e.from(&s.notifications)
	s.e.endList(s.told, "          ")
	s.e.raw("\n        }\n      ],\n      \"tool\": ")
	s.e.value("      ", sarifTool{Driver: sarifDriver{Name: "backpitch", Version: s.o.Version, Rules: orEmpty(s.rules)}})
	s.e.raw(",\n      \"properties\": ")
	s.e.value("      ", map[string]any{"cautions": Cautions})
	s.e.raw("\n    }\n  ]\n}\n")
	return s.e.flush()
}

// tellLimits says what was left out, or that a code host may leave some out.
func (s *sarifSink) tellLimits() {
	n := sarifNotification{Level: "warning"}
	n.Locations = []sarifLocation{}
	switch c := s.left; {
	case c != finding.Counts{}:
		n.Descriptor.ID = "results_left_out"
		n.Message.Text = fmt.Sprintf("%s left out by --max-results %d: %d fail, %d open, %d review, %d pass.",
			plural(c.Fail+c.Open+c.Review+c.Pass, "result"), s.o.MaxResults, c.Fail, c.Open, c.Review, c.Pass)
	case s.results > sarifResultLimit:
		n.Descriptor.ID = "many_results"
		n.Message.Text = fmt.Sprintf("The run has %d results; code hosts may refuse more than %d. Review fewer designs at once, or give --max-results, which leaves out passes first.", s.results, sarifResultLimit)
	default:
		return
	}
	s.tell(n)
}

func orEmpty[T any](list []T) []T {
	if list == nil {
		return []T{}
	}
	return list
}

// ruleIndex is where a rule stands in the list of rules; one that occurs for
// the first time is added.
func (s *sarifSink) ruleIndex(profile, id string) int {
	if i, ok := s.index[id]; ok {
		return i
	}
	r := s.o.rule(profile, id)
	rule := sarifRule{
		ID:               id,
		Name:             ruleName(id),
		ShortDescription: sarifText{Text: orElse(r.Title, id)},
		FullDescription:  sarifText{Text: orElse(r.Description, orElse(r.Title, id))},
		Help:             sarifText{Text: strings.Join(nonEmpty(r.Description, r.Rationale, r.Remedy, "Verify with local authority."), "\n\n")},
	}
	rule.Configuration.Level = sarifLevel(r.Level)
	rule.Properties.Tags = []string{strings.SplitN(id, "/", 2)[0]}
	s.index[id] = len(s.rules)
	s.rules = append(s.rules, rule)
	return s.index[id]
}

func sarifFinding(r finding.Review, f finding.Finding, rule, artifact int) sarifResult {
	res := sarifResult{
		RuleID:       f.Rule,
		RuleIndex:    rule,
		Kind:         string(f.Outcome),
		Level:        "none",
		Message:      sarifText{Text: sarifMessage(f)},
		Locations:    []sarifLocation{sarifPlace(f.Place, artifact)},
		Fingerprints: map[string]string{"backpitchSubject/v1": f.Fingerprint},
		Properties: map[string]any{
			"outcome": f.Outcome, "profile": r.Profile.ID, "section": f.Section,
			"basis": f.Basis, "verify": f.Verify,
		},
	}
	res.Locations[0].Logical = []sarifLogical{{Name: f.Subject, FullyQualifiedName: strings.TrimPrefix(f.Place.Pointer, "/"), Kind: "element"}}
	if f.Outcome == finding.Fail {
		res.Level = sarifLevel(f.Level)
	}
	if f.Measured != nil {
		res.Properties["measured"] = f.Measured.Text
	}
	if f.Limit != nil {
		res.Properties["limit"] = f.Limit.Text
	}
	return res
}

func sarifMessage(f finding.Finding) string {
	parts := []string{sentence(f.Message)}
	if len(f.Missing) > 0 {
		parts = append(parts, sentence("missing: "+strings.Join(f.Missing, "; ")))
	}
	parts = append(parts, sentence("required by "+f.Section+" ("+basisWords(f.Basis)+")"))
	if f.Remedy != "" && f.Outcome != finding.Pass {
		parts = append(parts, sentence(f.Remedy))
	}
	parts = append(parts, sentence(f.Verify))
	return strings.Join(parts, " ")
}

func sarifNotifications(r finding.Review, artifact int) []sarifNotification {
	var list []sarifNotification
	for _, p := range r.Problems {
		n := sarifNotification{Level: "error", Message: sarifText{Text: sentence(strings.TrimSpace(p.Message + hintText(p.Hint)))}}
		n.Locations = []sarifLocation{sarifPlace(p.Place, artifact)}
		n.Descriptor.ID = p.Code
		list = append(list, n)
	}
	if r.Failure != "" {
		n := sarifNotification{Level: "error", Message: sarifText{Text: sentence(r.Failure + hintText(r.Hint))}}
		n.Locations = []sarifLocation{sarifPlace(finding.Place{File: r.File}, artifact)}
		n.Descriptor.ID = "could_not_check"
		list = append(list, n)
	}
	return list
}

func hintText(h string) string {
	if h == "" {
		return ""
	}
	return "; " + h
}

func sarifPlace(p finding.Place, artifact int) sarifLocation {
	var l sarifLocation
	l.Physical.Artifact = sarifURI{URI: fileURI(p.File), Index: &artifact}
	if p.Line > 0 {
		l.Physical.Region = &sarifRegion{StartLine: p.Line, StartColumn: p.Col}
	}
	return l
}

func sarifLevel(l finding.Level) string {
	if l == "" {
		return "warning"
	}
	return string(l)
}

// fileURI renders a path as a relative or absolute URI reference (RFC 3986).
func fileURI(path string) string {
	u := url.URL{Path: filepath.ToSlash(path)}
	return u.String()
}

// ruleName turns drain/too_flat into DrainTooFlat (section 3.49.7).
func ruleName(id string) string {
	var b strings.Builder
	for _, w := range strings.FieldsFunc(id, func(r rune) bool { return r == '/' || r == '_' }) {
		b.WriteString(strings.ToUpper(w[:1]) + w[1:])
	}
	return b.String()
}

func sentence(s string) string {
	if s == "" {
		return s
	}
	s = strings.ToUpper(s[:1]) + s[1:]
	if strings.HasSuffix(s, ".") {
		return s
	}
	return s + "."
}

func orElse(s, other string) string {
	if s == "" {
		return other
	}
	return s
}
