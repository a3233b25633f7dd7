package exercise

import (
	"strings"
	"testing"

	"backpitch/engine/finding"
)

// TestSums works the arithmetic out by hand; conversions are exact by NIST SP
// 811 (2008), appendix B: 1 ft = 12 in, 1 gal = 231 in3.
func TestSums(t *testing.T) {
	for _, sum := range []string{
		"3+1+2=6 dfu", "3 + 1 + 2 = 6", "3 dfu + 1 dfu + 2 dfu = 6 dfu", "2 × 3 = 6 dfu", "2*(1+2) = 6 dfu",
		"12 ft * 1/4 in/ft = 3 in", "10 ft 6 in - 6 in = 10 ft", "1/4 in/ft - 1/8 in/ft = 1/8 in/ft", "1-1/2 in + 1/2 in = 2 in",
		"20/4 = 5", "20 gal / 10 gpm = 2 min", "6 = 2+4 = 3+3 = 6 dfu", "24 in - 3 ft = -12 in", "1/3 * 10 = 3.33", "(2+4)/3 = 2 dfu",
		"1 gal = 231 in3 * 1 = 231 in3", "2 m * 2 % = 4 cm", "100 ÷ 3 = 33.3 gpm",
	} {
		if _, err := sumHolds(sum); err != nil {
			t.Errorf("%s: %s", sum, err)
		}
	}
	for sum, want := range map[string]string{
		"3+1+2=7 dfu":                            "3+1+2 is not 7 dfu",
		"6 dfu":                                  "no =",
		"6 = 6 dfu":                              "nothing is worked out",
		"1/4 in/ft = 1/4 in/ft":                  "nothing is worked out",
		"3 ft + 2 dfu = 5 ft":                    "has not the same unit",
		"3 ft + 2 = 5 ft":                        "has not the same unit",
		"1/0 = 3":                                "",
		"1 / (2-2) = 3":                          "divides by nothing",
		"3 + = 3":                                "no number",
		"3 + x = 4":                              "no number",
		"3 bananas + 1 bananas = 4 bananas":      "no unit",
		"(3 + 1 = 4":                             "not closed",
		strings.Repeat("(", 100) + "1":           "no =",
		strings.Repeat("(", 100) + "1 = 1":       "too many brackets",
		strings.Repeat("-", 100) + "1 = 1":       "too many brackets",
		"1+" + strings.Repeat("1", 500) + " = 1": "longer than",
		"12 ft * 1/4 in/ft = 3 ft":               "is not 3 ft",
		"12 ft * 12 ft = 144 ft":                 "is not 144 ft",
		"3 + 1 = 4 + dfu":                        "no number",
		"":                                       "no =",
		"=":                                      "empty",
		"10.5 + 10.5 = 20":                       "is not 20",
		"1e5 + 1 = 100001":                       "no unit",
	} {
		_, err := sumHolds(sum)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v, want %q", sum, err, want)
		}
	}
}

func TestSumLeadsToTheFinding(t *testing.T) {
	six, four := int64(6000), int64(4000)
	f := KeyFinding{Measured: &finding.Quantity{Kind: "load", Fixed: &six, Text: "6 dfu"}, Limit: &finding.Quantity{Kind: "load", Fixed: &four, Text: "4 dfu"}}
	for sum, right := range map[string]bool{
		"3+1+2=6 dfu": true, "6 dfu - 4 dfu = 2 dfu": true, "2+2 = 4 dfu": true, "3+2 = 5 dfu": false, "3+1+2 = 6": false, "3+1 = 6 dfu": false,
	} {
		if err := sumShows(sum, f, 2); (err == nil) != right {
			t.Errorf("%s: %v", sum, err)
		}
	}
}

func FuzzSum(f *testing.F) {
	f.Add("3+1+2=6 dfu")
	f.Add("12 ft * 1/4 in/ft = 3 in")
	f.Add("((1-1/2)) × 2 = 3 in")
	f.Fuzz(func(t *testing.T, s string) {
		a, errA := sumHolds(s)
		b, errB := sumHolds(s)
		if a != b || (errA == nil) != (errB == nil) {
			t.Errorf("%q is judged in two ways", s)
		}
	})
}
