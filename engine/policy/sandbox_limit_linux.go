package policy

import (
	"fmt"
	"os"
	"syscall"
)

// limitAddresses has the system refuse the process more memory than what it
// has now and so many bytes.
func limitAddresses(bytes int64) error {
	text, err := os.ReadFile("/proc/self/statm")
	if err != nil {
		return fmt.Errorf("limiting memory: %w", err)
	}
	var pages uint64
	if _, err := fmt.Sscan(string(text), &pages); err != nil {
		return fmt.Errorf("limiting memory: %w", err)
	}
	limit := pages*uint64(os.Getpagesize()) + uint64(bytes)
	if err := syscall.Setrlimit(syscall.RLIMIT_AS, &syscall.Rlimit{Cur: limit, Max: limit}); err != nil {
		return fmt.Errorf("limiting memory: %w", err)
	}
	// A process that dies of it leaves nothing behind.
	if err := syscall.Setrlimit(syscall.RLIMIT_CORE, &syscall.Rlimit{}); err != nil {
		return fmt.Errorf("limiting memory: %w", err)
	}
	return nil
}
