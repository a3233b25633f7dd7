package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/report"
)

// A threshold says which outcomes make the exit code 1.
type threshold struct {
	levels map[finding.Level]bool
	open   bool
}

func parseThreshold(word string) (threshold, error) {
	switch word {
	case "error":
		return threshold{levels: map[finding.Level]bool{finding.Error: true}}, nil
	case "warning":
		return threshold{levels: map[finding.Level]bool{finding.Error: true, finding.Warning: true}}, nil
	case "note":
		return threshold{levels: map[finding.Level]bool{finding.Error: true, finding.Warning: true, finding.Note: true}}, nil
	case "open":
		return threshold{levels: map[finding.Level]bool{finding.Error: true, finding.Warning: true, finding.Note: true}, open: true}, nil
	case "never":
		return threshold{}, nil
	}
	return threshold{}, usageError("choose error, warning, note, open or never", "--fail-on %q is not a level", word)
}

// exitCode is that of one review; the highest of a batch wins.
func exitCode(r finding.Review, t threshold) int {
	return exitCodeOf(report.Unchecked(r), r.Counts, t)
}

// exitCodeOf is that of a review of which only the counts are left. Failures
// that somebody answers for are in no level.
func exitCodeOf(unchecked bool, c finding.Counts, t threshold) int {
	switch {
	case unchecked:
		return exitNotChecked
	case c.Errors > 0 && t.levels[finding.Error], c.Warnings > 0 && t.levels[finding.Warning], c.Notes > 0 && t.levels[finding.Note], c.Open > 0 && t.open:
		return exitFindings
	}
	return exitClean
}

func parseShow(list string) (map[finding.Outcome]bool, error) {
	show := map[finding.Outcome]bool{}
	for _, word := range strings.Split(list, ",") {
		switch o := finding.Outcome(strings.TrimSpace(word)); o {
		case finding.Pass, finding.Fail, finding.Open, finding.PersonDecides:
			show[o] = true
		case "all":
			for _, each := range []finding.Outcome{finding.Pass, finding.Fail, finding.Open, finding.PersonDecides} {
				show[each] = true
			}
		case "":
		default:
			return nil, usageError("choose from fail, open, review, pass, all", "--show %q is not an outcome", word)
		}
	}
	return show, nil
}

// fileReason is why a file could not be read, without its path.
func fileReason(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	var l *os.LinkError // of a file that could not get its name
	if errors.As(err, &l) {
		return filepath.Base(l.New) + ": " + l.Err.Error()
	}
	return err.Error()
}
