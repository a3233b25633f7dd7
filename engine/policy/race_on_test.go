//go:build race

package policy

// raceDetector says that the test is built with -race. It maps memory beside
// what the program asks for, so that no process can be held to a limit of its
// address space, and takes ten times as long.
const raceDetector = true
