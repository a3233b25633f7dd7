//go:build race

package main

// raceDetector says that the test is built with -race, and so are the commands
// in its scripts: no process can be held to a limit of its address space.
const raceDetector = true
