package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
)

// An input is one design to read, or the reason why a named path gives none.
type input struct {
	name string
	err  error
}

const stdinName = "-"

// gatherInputs turns the named paths into designs, in the order named; the
// files of a folder are those ending in .json, at any depth, sorted.
func gatherInputs(paths []string) []input {
	var inputs []input
	for _, path := range paths {
		if path == stdinName {
			inputs = append(inputs, input{name: stdinName})
			continue
		}
		inputs = append(inputs, gatherPath(path)...)
	}
	return inputs
}

func gatherPath(path string) []input {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist) && strings.ContainsAny(path, "*?["):
		return gatherGlob(path)
	case err != nil:
		return []input{{name: path, err: err}}
	case !info.IsDir():
		return []input{{name: path}}
	}
	var inputs []input
	walkErr := filepath.WalkDir(path, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			inputs = append(inputs, input{name: p, err: err})
			return nil
		}
		if !d.IsDir() && strings.EqualFold(filepath.Ext(p), ".json") {
			inputs = append(inputs, input{name: p})
		}
		return nil
	})
	if walkErr != nil {
		inputs = append(inputs, input{name: path, err: walkErr})
	}
	if len(inputs) == 0 {
		return []input{{name: path, err: errors.New("the folder holds no .json file")}}
	}
	return inputs
}

func gatherGlob(pattern string) []input {
	matches, err := filepath.Glob(pattern)
	if err != nil {
		return []input{{name: pattern, err: err}}
	}
	if len(matches) == 0 {
		return []input{{name: pattern, err: errors.New("no file matches")}}
	}
	sort.Strings(matches)
	var inputs []input
	for _, m := range matches {
		inputs = append(inputs, gatherPath(m)...)
	}
	return inputs
}

// read returns at most limit+1 bytes of an input, enough for the reader of
// designs to see that a document is over its limit without holding all of it.
func (in input) read(stdin io.Reader, limit int64) ([]byte, error) {
	if in.err != nil {
		return nil, in.err
	}
	if in.name == stdinName {
		return io.ReadAll(io.LimitReader(stdin, limit+1))
	}
	f, err := os.Open(in.name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return nil, fmt.Errorf("is a folder")
	}
	return io.ReadAll(io.LimitReader(f, limit+1))
}
