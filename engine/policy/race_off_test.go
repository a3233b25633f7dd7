//go:build !race

package policy

// raceDetector says that the test is not built with -race.
const raceDetector = false
