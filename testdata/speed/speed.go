// Package speed counts processor time in benchmarks, which other programs on
// the machine disturb less than the time on the clock.
package speed

import "testing"

// Count begins to count. What it returns ends it and reports the processor
// time of this process, user and system, for each operation.
func Count(b *testing.B) (report func()) {
	b.Helper()
	began := spent()
	return func() { b.ReportMetric(float64(spent()-began)/float64(b.N), "cpu-ns/op") }
}
