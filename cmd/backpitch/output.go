package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
)

// writeWhole writes a file whole or not at all: into a new file beside it,
// which takes its place only when every byte is on disk.
func writeWhole(path string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err = write(f); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), path)
}

// writeTo sends a report to the file of --output, or to standard output.
func writeTo(path string, stdout io.Writer, write func(io.Writer) error) error {
	if path == "" || path == stdinName {
		// A report that cannot be finished is not begun.
		var whole bytes.Buffer
		if err := write(&whole); err != nil {
			return err
		}
		_, err := whole.WriteTo(stdout)
		return err
	}
	if err := writeWhole(path, write); err != nil {
		return usageError("", "writing %s: %s", path, pathReason(err))
	}
	return nil
}
