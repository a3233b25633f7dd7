package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"syscall"
)

// writeWhole writes a file whole or not at all: into a new file beside it,
// which takes its place only when every byte is on disk.
func writeWhole(path string, write func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	return finishWhole(f, path, write)
}

// finishWhole writes f and gives it its name; where that fails f is removed.
func finishWhole(f *os.File, path string, write func(io.Writer) error) (err error) {
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

// toStdout says that a report goes to standard output.
func toStdout(path string) bool { return path == "" || path == stdinName }

// writeTo sends a report to the file of --output, or to standard output as it
// comes.
func writeTo(path string, stdout io.Writer, write func(io.Writer) error) error {
	if toStdout(path) {
		w := &stdoutWriter{w: stdout}
		err := write(w)
		if w.err != nil {
			return stdoutError(w.err)
		}
		return err
	}
	if err := writeWhole(path, write); err != nil {
		var exit *exitError
		if errors.As(err, &exit) {
			return err
		}
		return usageError("", "writing %s: %s", path, fileReason(err))
	}
	return nil
}

// stdoutWriter remembers that standard output failed, whatever is made of it.
type stdoutWriter struct {
	w   io.Writer
	err error
}

func (s *stdoutWriter) Write(p []byte) (int, error) {
	if s.err != nil {
		return 0, s.err
	}
	n, err := s.w.Write(p)
	s.err = err
	return n, err
}

// stdoutError ends the command; a reader that has gone (head, a closed pager)
// needs no message.
func stdoutError(err error) error {
	if errors.Is(err, syscall.EPIPE) || errors.Is(err, io.ErrClosedPipe) {
		return &exitError{code: exitNotChecked}
	}
	return usageError("", "writing standard output: %s", fileReason(err))
}
