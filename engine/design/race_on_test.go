//go:build race

package design

// slower is how much longer than usual a test may take: it is built with -race.
const slower = 10
