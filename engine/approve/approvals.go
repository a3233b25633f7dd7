// Package approve is the reviewer's desk: approvals, the baseline of existing
// work, and saved reviews.
//
// What enters: the bytes of a reviewer's own file, and a finding.Review. What
// leaves: the review with its failures marked, each mark saying who answers for
// it, and notices about the file itself. It refuses patterns: an approval is
// for one rule and one subject. It opens no file and reads no clock: the day is
// given.
package approve

import (
	"fmt"
	"strconv"
	"time"

	"backpitch/engine/design"
	"backpitch/engine/finding"
)

// Approvals is an approvals file.
type Approvals struct {
	list []approval
}

// approval is one entry: whom it is for, and the mark it leaves.
type approval struct {
	rule, subject, project string
	mark                   finding.Approval
}

// what names an approval for people.
func (a approval) what() string {
	return fmt.Sprintf("the approval of %s for %q (%s)", a.rule, a.subject, a.mark.Reference)
}

// approvalsFile is schema/approvals.schema.json.
type approvalsFile struct {
	Approvals []struct {
		Rule      string `json:"rule"`
		Subject   string `json:"subject"`
		Project   string `json:"project"`
		Reason    string `json:"reason"`
		GrantedBy string `json:"granted_by"`
		Reference string `json:"reference"`
		Date      string `json:"date"`
		Expires   string `json:"expires"`
		Condition string `json:"condition"`
	} `json:"approvals"`
}

// ReadApprovals reads an approvals file with the care that a design gets; name
// is what problems and marks call it. The Approvals are nil when there are
// problems.
func ReadApprovals(name string, data []byte, limits design.Limits) (*Approvals, []finding.Problem) {
	src, problems := design.ReadSource(name, "approvals", "approvals file", data, limits)
	if src == nil {
		return nil, problems
	}
	var file approvalsFile
	if problems := src.Decode(&file); problems != nil {
		return nil, problems
	}
	r := reader{src: src}
	out := &Approvals{}
	first := map[[4]string]int{}
	for i, a := range file.Approvals {
		at := "/approvals/" + strconv.Itoa(i)
		granted := r.date(at+"/date", a.Date)
		if a.Expires != "" && r.date(at+"/expires", a.Expires) && granted && a.Expires < a.Date {
			r.add(at+"/expires", "expires_first", fmt.Sprintf("it expires on %s, before it is granted on %s", a.Expires, a.Date), "")
		}
		key := [4]string{a.Rule, a.Subject, a.Project, a.Reference}
		if before, twice := first[key]; twice {
			line := src.Place("/approvals/" + strconv.Itoa(before)).Line
			r.add(at, "duplicate_approval", fmt.Sprintf("%s for %q under reference %q is already on line %d", a.Rule, a.Subject, a.Reference, line),
				"a renewal has a reference of its own")
		} else {
			first[key] = i
		}
		out.list = append(out.list, approval{rule: a.Rule, subject: a.Subject, project: a.Project, mark: finding.Approval{
			GrantedBy: a.GrantedBy, Reference: a.Reference, Date: a.Date, Expires: a.Expires, Condition: a.Condition, Reason: a.Reason,
			Place: src.Place(at),
		}})
	}
	if len(r.problems) > 0 {
		finding.SortProblems(r.problems)
		return nil, r.problems
	}
	return out, nil
}

// Dated reports whether an approval expires, so that the day must be given.
func (a *Approvals) Dated() bool {
	for _, x := range a.list {
		if x.mark.Expires != "" {
			return true
		}
	}
	return false
}

// reader collects what the schema cannot say.
type reader struct {
	src      *design.Source
	problems []finding.Problem
}

func (r *reader) add(pointer, code, message, hint string) {
	r.problems = append(r.problems, finding.Problem{Place: r.src.Place(pointer), Code: code, Message: message, Hint: hint})
}

func (r *reader) date(pointer, text string) bool {
	if err := CheckDate(text); err != nil {
		r.add(pointer, "bad_date", err.Error(), "write it as 2026-02-03")
		return false
	}
	return true
}

// CheckDate refuses what is not a day of the calendar written year-month-day.
// Such days are in order when their texts are.
func CheckDate(text string) error {
	if _, err := time.Parse(time.DateOnly, text); err != nil || len(text) != len(time.DateOnly) {
		return fmt.Errorf("%q is not a day of the calendar", text)
	}
	return nil
}
