//go:build unix

package main

import (
	"errors"
	"os"
	"syscall"
)

// lockFile takes a lock that ends with the process, however it ends; busy says
// that another process has it.
func lockFile(path string) (unlock func(), busy bool, err error) {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, false, err
	}
	if err := syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB); err != nil {
		f.Close()
		if errors.Is(err, syscall.EWOULDBLOCK) {
			return nil, true, nil
		}
		return nil, false, &os.PathError{Op: "lock", Path: path, Err: err}
	}
	return func() { f.Close() }, false, nil
}
