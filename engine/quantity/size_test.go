package quantity

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

// Pairs of ISO 6708 / NPS as trade tables print them (common practice).
func TestSizes(t *testing.T) {
	want := map[string]int64{"3/8": 10, "1/2": 15, "3/4": 20, "1": 25, "1-1/4": 32, "1-1/2": 40, "2": 50, "2-1/2": 65, "3": 80,
		"4": 100, "5": 125, "6": 150, "8": 200, "10": 250, "12": 300, "15": 375}
	got := map[string]int64{}
	last := int64(0)
	for _, s := range Sizes() {
		if s.DN <= last {
			t.Errorf("DN %d after DN %d", s.DN, last)
		}
		last = s.DN
		if v := mustParse(t, Size, SizeKey(s.DN)); v.Fixed() != s.DN {
			t.Errorf("%s reads as %d", SizeKey(s.DN), v.Fixed())
		}
		if s.Inch == "" {
			continue
		}
		got[s.Inch] = s.DN
		if v := mustParse(t, Size, s.Inch+" in"); v.Fixed() != s.DN || v.String() != s.Inch+" in" {
			t.Errorf("%s in reads as %d, %q", s.Inch, v.Fixed(), v)
		}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("inch sizes (-want +got):\n%s", diff)
	}
}
