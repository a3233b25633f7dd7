package approve

import (
	"strings"
	"testing"

	"backpitch/engine/design"
	"backpitch/engine/finding"
)

// FuzzReadApprovals: no input breaks the reader; what it accepts marks one
// rule and one subject, and what it refuses has a place and a reason.
func FuzzReadApprovals(f *testing.F) {
	f.Add(file(one(`{}`)))
	f.Add(file(one(`{"expires":"2026-12-31","condition":"x","project":"KR-1"}`), one(`{"reference":"B"}`)))
	for _, s := range []string{"", "{}", `{"approvals":[{}]}`, `{"approvals":[{"rule":"*"}]}`, `{"approvals":[],"approvals":1}`, "\xef\xbb\xbf{}"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		a, problems := ReadApprovals("a.json", data, design.Limits{})
		if (a == nil) == (len(problems) == 0) {
			t.Fatalf("approvals %v, problems %v", a, problems)
		}
		for _, p := range problems {
			if p.Code == "" || p.Message == "" || p.Place.File != "a.json" || p.Code != "max_problems" && p.Place.Line < 1 {
				t.Fatalf("problem %+v", p)
			}
		}
		if a == nil {
			return
		}
		for _, x := range a.list {
			if strings.ContainsAny(x.rule+x.subject, "*?[]") || x.mark.GrantedBy == "" || x.mark.Reference == "" || x.mark.Reason == "" || CheckDate(x.mark.Date) != nil {
				t.Fatalf("approval %+v", x)
			}
		}
		got := (&Desk{Approvals: a, AsOf: "2026-06-01"}).Mark(judged(finds("drain/too_flat", "b1", finding.Fail, "1 %")))
		if c := got.Counts; c.Fail != 1 || c.Approved+c.Errors != 1 {
			t.Fatalf("counts %+v", c)
		}
	})
}
