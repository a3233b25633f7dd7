//go:build !race

package main

// raceDetector says that the test is not built with -race.
const raceDetector = false
