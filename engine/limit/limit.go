// Package limit is the one table of bounds: what is read of a file, computed
// for a design and printed of a report at most.
//
// What enters: what was found and what is allowed. What leaves: the words of
// the message. It counts nothing itself: the packages that read, judge and
// print do, and ask here what the bound is called.
package limit

import (
	"fmt"
	"strings"
	"time"
)

// A Limit is one bound. It has one name: that of the flag (--max-bytes), which
// messages say without the dashes and problems carry as code (max_bytes).
type Limit struct {
	Name    string
	Bounds  string // what is bounded, for help and README
	Default int
	Least   int
	Most    int    // the largest value the flag takes
	Said    string // the default in words, where it is no plain number
	Why     string // the reason for the default
}

// The bounds of one document. The reasons were measured with the demo, repeated.
var (
	Bytes    = Limit{Name: "max-bytes", Bounds: "bytes of a file, of standard input, or of a line of a stream", Default: 16 << 20, Least: 1, Most: 1 << 30, Why: "three times what 25,000 elements take, written without blanks"}
	Depth    = Limit{Name: "max-depth", Bounds: "objects and lists inside each other", Default: 64, Least: 1, Most: 10_000, Why: "a design needs 5"}
	Values   = Limit{Name: "max-values", Bounds: "objects, lists and plain values of a design together", Default: 500_000, Least: 1, Most: 100_000_000, Why: "twice what 25,000 elements have"}
	Elements = Limit{Name: "max-elements", Bounds: "elements of a design: whatever has an id", Default: 25_000, Least: 1, Most: 10_000_000, Why: "490 houses like the demo, judged in some seconds"}
	Digits   = Limit{Name: "max-digits", Bounds: "digits of one number", Default: 64, Least: 1, Most: 1_000_000, Why: "no count has as many; measures are texts"}
	Text     = Limit{Name: "max-text", Bounds: "bytes of one text or key", Default: 10_000, Least: 1, Most: 1 << 30, Why: "a remark of four pages"}
)

// The bounds of a run.
var (
	Designs  = Limit{Name: "max-designs", Bounds: "files that the paths of one run name", Default: 100_000, Least: 1, Most: 100_000_000, Why: "a wrong folder is noticed before it is read; a stream has no end"}
	Time     = Limit{Name: "max-time", Bounds: "time that the rules of one design take", Default: int(OwnTime), Said: "2m; 10s for `--bundle` and `--policies`", Least: 1, Most: int(24 * time.Hour), Why: "ten times what 25,000 elements take; rules of others that do not end are not waited for"}
	Memory   = Limit{Name: "max-memory", Bounds: "megabytes that rules of `--bundle` and `--policies` take, for each of `--jobs`", Default: 512, Least: 64, Most: 1 << 20, Why: "judges 5,000 elements by the built-in rules; the demo needs some 100"}
	Problems = Limit{Name: "max-problems", Bounds: "problems listed of one file; the rest are counted", Default: 100, Least: 1, Most: 1_000_000, Why: "nobody mends more at a time"}
	Results  = Limit{Name: "max-results", Bounds: "findings in text, results in sarif, issues in codequality, marks of a kind in annotations; the rest are counted, and passes in sarif are left out first", Said: "no limit", Least: 1, Most: 1_000_000_000, Why: "a report is whole unless somebody asks for less"}
)

// What rules may take for one design where no flag says otherwise. Sound ones
// take some milliseconds, and some seconds for the largest design that is read.
const (
	StrangersTime = 10 * time.Second // rules of --bundle and --policies
	OwnTime       = 2 * time.Minute  // the built-in ones
)

// All is every limit with a flag, in the order of the README.
var All = []Limit{Bytes, Depth, Values, Elements, Digits, Text, Problems, Designs, Time, Memory, Results}

// Code is the code of a problem that tells of this limit.
func (l Limit) Code() string { return strings.ReplaceAll(l.Name, "-", "_") }

// Hit is the message: what was found, and what is allowed.
func (l Limit) Hit(found string, allowed int) string {
	return fmt.Sprintf("%s; %s is %d", found, l.Name, allowed)
}

// Hint says what raises the limit.
func (l Limit) Hint() string { return "--" + l.Name + " raises the limit" }

// Check refuses a value that the flag cannot have.
func (l Limit) Check(n int) error {
	if n < l.Least || n > l.Most {
		return fmt.Errorf("--%s must be from %d to %d, not %d", l.Name, l.Least, l.Most, n)
	}
	return nil
}
