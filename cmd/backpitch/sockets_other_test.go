//go:build !linux || !(amd64 || arm64)

package main

// withoutSockets is the command as it is: what ends a process that makes a socket
// is known for Linux alone.
func withoutSockets(command func()) func() { return command }

func dial() {}
