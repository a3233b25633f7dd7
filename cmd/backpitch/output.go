package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"sync"
	"syscall"
)

// writeWhole writes a file whole or not at all: into a new file beside it,
// which takes its place only when every byte is on disk.
func writeWhole(path string, write func(io.Writer) error) (err error) {
	f, err := createUnfinished(filepath.Dir(path), "."+filepath.Base(path)+".*")
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
		unfinished.drop(f.Name())
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

// unfinished are the files and folders that have not got their names yet, so
// that a process that is told to end at once takes them along.
var unfinished = leftovers{paths: map[string]bool{}}

type leftovers struct {
	mu    sync.Mutex
	paths map[string]bool
}

func (l *leftovers) add(path string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.paths[path] = true
}

func (l *leftovers) drop(path string) {
	l.mu.Lock()
	defer l.mu.Unlock()
	delete(l.paths, path)
}

// remove removes all of them. What is made from then on waits for ever, and the
// process is about to end.
func (l *leftovers) remove() {
	l.mu.Lock()
	for path := range l.paths {
		os.RemoveAll(path)
	}
}

func createUnfinished(dir, pattern string) (*os.File, error) {
	f, err := os.CreateTemp(dir, pattern)
	if err == nil {
		unfinished.add(f.Name())
	}
	return f, err
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
	err := writeNamed(path, write)
	if err != nil {
		var exit *exitError
		if errors.As(err, &exit) {
			return err
		}
		return usageError("", "writing %s: %s", path, fileReason(err))
	}
	return nil
}

// writeNamed writes the file of --output: where a link leads, and into what is
// no regular file, such as a pipe or /dev/null, as it comes.
func writeNamed(path string, write func(io.Writer) error) error {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return writeWhole(path, write)
	case info.IsDir():
		return errFolder
	case info.Mode().IsRegular():
		if to, err := filepath.EvalSymlinks(path); err == nil {
			path = to
		}
		return writeWhole(path, write)
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return errors.Join(write(f), f.Close())
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
