package main

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"github.com/urfave/cli/v2"

	"backpitch/engine/report"
)

// stateName is the file in a folder of reports that says for which bytes, rules
// and options each report was made: a JSON object a line, the last one of a
// design counts. A line is added when the reports of a design stand in the
// folder, so a run that is killed loses nothing that was finished; a line that
// was cut off by that is no line.
const stateName = ".backpitch-state.ndjson"

// A record is one line of the state.
type record struct {
	Design  string       `json:"design"`            // SHA-256 of the bytes
	Profile string       `json:"profile,omitempty"` // digest of the rules and figures
	Run     string       `json:"run"`               // digest of program and options
	Reports []reportFile `json:"reports"`
	LeftOut int          `json:"left_out,omitempty"` // findings left out by --max-results
	Row     report.Row   `json:"row"`
}

type reportFile struct {
	Name string `json:"name"`
	Size int64  `json:"size"`
}

// state holds where each design's line is, not the lines: memory grows by some
// bytes for each design.
type state struct {
	f     *os.File
	path  string
	size  int64
	lines int
	at    map[string]span // by name of the design
}

type span struct {
	offset int64
	length int
}

func openState(dir string) (*state, error) {
	s := &state{path: filepath.Join(dir, stateName), at: map[string]span{}}
	f, err := os.OpenFile(s.path, os.O_CREATE|os.O_RDWR, 0o644)
	if err != nil {
		return nil, err
	}
	s.f = f
	in := bufio.NewReaderSize(f, 1<<20)
	for {
		line, err := in.ReadBytes('\n')
		if err != nil {
			if errors.Is(err, io.EOF) {
				break // a line without its end was cut off
			}
			f.Close()
			return nil, err
		}
		var r record
		if json.Unmarshal(line, &r) == nil && r.Row.File != "" {
			s.at[r.Row.File] = span{s.size, len(line)}
		}
		s.size += int64(len(line))
		s.lines++
	}
	if err := f.Truncate(s.size); err != nil {
		f.Close()
		return nil, err
	}
	return s, nil
}

// find returns the record of a design.
func (s *state) find(name string) (r record, ok bool) {
	at, ok := s.at[name]
	if !ok {
		return record{}, false
	}
	line := make([]byte, at.length)
	if _, err := s.f.ReadAt(line, at.offset); err != nil {
		return record{}, false
	}
	return r, json.Unmarshal(line, &r) == nil
}

func (s *state) add(r record) error {
	line, err := json.Marshal(r)
	if err != nil {
		return err
	}
	line = append(line, '\n')
	if _, err := s.f.WriteAt(line, s.size); err != nil {
		return err
	}
	s.at[r.Row.File] = span{s.size, len(line)}
	s.size += int64(len(line))
	s.lines++
	return nil
}

// close rewrites the state, sorted and each design once, if lines have been
// overtaken by others.
func (s *state) close() error {
	defer s.f.Close()
	if s.lines == len(s.at) {
		return s.f.Sync()
	}
	names := make([]string, 0, len(s.at))
	for name := range s.at {
		names = append(names, name)
	}
	slices.Sort(names)
	// Under the name that the next run removes, where this one is killed.
	f, err := createUnfinished(filepath.Dir(s.path), tempPrefix+"*")
	if err != nil {
		return err
	}
	return finishWhole(f, s.path, func(w io.Writer) error {
		out := bufio.NewWriter(w)
		for _, name := range names {
			at := s.at[name]
			if _, err := io.Copy(out, io.NewSectionReader(s.f, at.offset, int64(at.length))); err != nil {
				return err
			}
		}
		return out.Flush()
	})
}

// standing says that the reports of a record are still in the folder.
func (r record) standing(dir string) bool {
	for _, f := range r.Reports {
		info, err := os.Lstat(filepath.Join(dir, f.Name))
		if err != nil || !info.Mode().IsRegular() || info.Size() != f.Size {
			return false
		}
	}
	return len(r.Reports) > 0
}

// digestPolicies is the digest of everything a profile is judged by: the
// helper library, the rules, the profile and those it amends.
func digestPolicies(fsys fs.FS, chain []string) (string, error) {
	var all bytes.Buffer
	dirs := []string{"lib", "rules"}
	for _, id := range chain {
		dirs = append(dirs, "profiles/"+id)
	}
	for _, dir := range dirs {
		err := fs.WalkDir(fsys, dir, func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := fs.ReadFile(fsys, name)
			fmt.Fprintf(&all, "%q %d\n%s\n", name, len(data), data)
			return err
		})
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return "", err
		}
	}
	return digest(all.Bytes()), nil
}

// digestRun is the digest of all that decides a report besides the design and
// the profile: the program and the options, and the bytes of the files that
// options name.
func digestRun(c *cli.Context) (string, error) {
	program, err := os.Executable()
	if err != nil {
		return "", err
	}
	f, err := os.Open(program)
	if err != nil {
		return "", err
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return "", err
	}
	for _, flag := range c.Command.Flags {
		name := flag.Names()[0]
		switch name {
		case "help", "jobs", "output", "out-dir", "skip-unchanged", "fail-on", "policies":
			continue // none of them changes a report; policies are digested by profile
		}
		value := fmt.Sprint(c.Value(name))
		fmt.Fprintf(sum, "%s %q\n", name, value)
		if name != "approvals" && name != "baseline" && name != "bundle" {
			continue // it names no file
		}
		if data, err := os.ReadFile(value); err == nil {
			fmt.Fprintf(sum, "%s\n", digest(data))
		}
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
