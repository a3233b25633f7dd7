package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/urfave/cli/v2"

	"backpitch/engine/limit"
)

// An input is one design to read, or the reason why a named path gives none.
type input struct {
	name  string
	err   error
	found bool // in a folder, not named: it must be a regular file
}

const stdinName = "-"

// gatherInputs turns the named paths into designs, in the order named; the
// files of a folder are those ending in .json, at any depth, sorted. A design
// that is named twice is reviewed once. The folder skip, where it is not "",
// is left out. One input more than most is enough to see that there are too
// many.
func gatherInputs(paths []string, skip string, most int) []input {
	g := gathering{seen: map[string]bool{}, most: most}
	if skip != "" {
		g.skip, _ = os.Stat(skip)
	}
	for _, p := range paths {
		if g.full() {
			break
		}
		if p == stdinName {
			g.add(input{name: stdinName})
			continue
		}
		g.path(p)
	}
	return g.inputs
}

// gatherDesigns is gatherInputs for a command with --max-designs.
func gatherDesigns(c *cli.Context, paths []string) ([]input, error) {
	most, err := flagValue(c, limit.Designs)
	if err != nil {
		return nil, err
	}
	inputs := gatherInputs(paths, c.String("out-dir"), most)
	if len(inputs) > most {
		return nil, usageError(limit.Designs.Hint(), "%s", limit.Designs.Hit(fmt.Sprintf("the paths name more than %d files, and none was read", most), most))
	}
	return inputs, nil
}

type gathering struct {
	inputs []input
	seen   map[string]bool
	skip   fs.FileInfo
	most   int
}

func (g *gathering) full() bool { return len(g.inputs) > g.most }

func (g *gathering) add(in input) {
	key := filepath.Clean(in.name)
	if !g.seen[key] {
		g.seen[key] = true
		g.inputs = append(g.inputs, in)
	}
}

func (g *gathering) path(p string) {
	info, err := os.Stat(p)
	switch {
	case errors.Is(err, fs.ErrNotExist) && strings.ContainsAny(p, "*?["):
		g.glob(p)
	case err != nil:
		g.add(input{name: p, err: err})
	case !info.IsDir():
		g.add(input{name: p})
	default:
		if found := g.walk(p, isJSON); !found {
			g.add(input{name: p, err: errors.New("the folder holds no .json file")})
		}
	}
}

func isJSON(name string) bool { return strings.EqualFold(filepath.Ext(name), ".json") }

// walk adds the files under a folder that are wanted, in the order of their
// names, and says whether there were any.
func (g *gathering) walk(dir string, wanted func(name string) bool) bool {
	found := false
	if info, err := os.Lstat(dir); err == nil && info.Mode()&fs.ModeSymlink != 0 {
		dir += string(filepath.Separator) // the folder that the link leads to
	}
	err := filepath.WalkDir(dir, func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			g.add(input{name: name, err: err})
			found = true
			if d != nil && d.IsDir() {
				return fs.SkipDir
			}
		case d.IsDir():
			if g.skips(d) {
				return fs.SkipDir
			}
		case wanted(name):
			g.add(input{name: name, err: readable(d), found: true})
			found = true
		}
		if g.full() {
			return fs.SkipAll
		}
		return nil
	})
	if err != nil {
		g.add(input{name: dir, err: err})
		return true
	}
	return found
}

func (g *gathering) skips(d fs.DirEntry) bool {
	if g.skip == nil {
		return false
	}
	info, err := d.Info()
	return err == nil && os.SameFile(info, g.skip)
}

// readable refuses what would block or never end when it is read.
func readable(d fs.DirEntry) error {
	if t := d.Type(); t.IsRegular() || t&fs.ModeSymlink != 0 {
		return nil
	}
	return errIrregular
}

// glob adds the files that match a pattern: * ? and [ ] inside a name, ** for
// any number of folders.
func (g *gathering) glob(pattern string) {
	slashed := filepath.ToSlash(pattern)
	if _, err := path.Match(slashed, ""); err != nil {
		g.add(input{name: pattern, err: err})
		return
	}
	root, rest := splitPattern(slashed)
	if info, err := os.Stat(root); err != nil || !info.IsDir() {
		g.add(input{name: pattern, err: errors.New("no file matches")})
		return
	}
	parts := strings.Split(rest, "/")
	if parts[len(parts)-1] == "**" {
		parts = append(parts, "*.json")
	}
	found := g.walk(filepath.FromSlash(root), func(name string) bool {
		rel, err := filepath.Rel(root, name)
		return err == nil && matchesInside(parts, strings.Split(filepath.ToSlash(rel), "/"))
	})
	if !found {
		g.add(input{name: pattern, err: errors.New("no file matches")})
	}
}

// splitPattern returns the folder before the first part with a wild card.
func splitPattern(pattern string) (root, rest string) {
	wild := strings.IndexAny(pattern, "*?[")
	cut := strings.LastIndex(pattern[:wild], "/")
	switch {
	case cut < 0:
		return ".", pattern
	case cut == 0:
		return "/", pattern[1:]
	}
	return pattern[:cut], pattern[cut+1:]
}

// matchesInside is matches, or true for a .json file in a folder that matches.
func matchesInside(pattern, name []string) bool {
	if matches(pattern, name) {
		return true
	}
	if !isJSON(name[len(name)-1]) {
		return false
	}
	for i := 1; i < len(name); i++ {
		if matches(pattern, name[:i]) {
			return true
		}
	}
	return false
}

// matches says whether the parts of a path match those of a pattern.
func matches(pattern, name []string) bool {
	switch {
	case len(pattern) == 0:
		return len(name) == 0
	case pattern[0] == "**":
		for i := range len(name) + 1 {
			if matches(pattern[1:], name[i:]) {
				return true
			}
		}
		return false
	case len(name) == 0:
		return false
	}
	ok, _ := path.Match(pattern[0], name[0])
	return ok && matches(pattern[1:], name[1:])
}

// read returns the bytes of an input, or a *tooLarge where it has more than
// limit. What may block, a pipe or standard input, is given up when ctx is done.
func (in input) read(ctx context.Context, stdin io.Reader, limit int64) ([]byte, error) {
	if in.err != nil {
		return nil, in.err
	}
	if in.name == stdinName {
		return readUntil(ctx, func() (io.Reader, error) { return stdin, nil }, limit)
	}
	info, err := os.Stat(in.name)
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errFolder
	case info.Mode().IsRegular():
		return readRegular(in.name, limit)
	case in.found:
		return nil, errIrregular
	}
	return readUntil(ctx, func() (io.Reader, error) { return os.Open(in.name) }, limit)
}

var (
	errFolder    = errors.New("is a folder")
	errIrregular = errors.New("is not a regular file")
)

// readRegular reads a regular file. It may have become something else since it
// was looked at, so it is opened without waiting for anybody to write to it.
func readRegular(name string, limit int64) ([]byte, error) {
	f, err := os.OpenFile(name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	info, err := f.Stat()
	switch {
	case err != nil:
		return nil, err
	case info.IsDir():
		return nil, errFolder
	case !info.Mode().IsRegular():
		return nil, errIrregular
	case info.Size() > limit:
		return nil, &tooLarge{info.Size(), limit}
	}
	// Its size is known: one piece of memory, not one that grows.
	data := bytes.NewBuffer(make([]byte, 0, info.Size()+bytes.MinRead))
	_, err = data.ReadFrom(io.LimitReader(f, limit+1))
	if err == nil && int64(data.Len()) > limit {
		err = &tooLarge{0, limit} // it grows meanwhile
	}
	return data.Bytes(), err
}

// readUntil reads what may block, and gives up when the run is interrupted.
func readUntil(ctx context.Context, open func() (io.Reader, error), limit int64) ([]byte, error) {
	type answer struct {
		data []byte
		err  error
	}
	done := make(chan answer, 1)
	go func() {
		r, err := open()
		if err != nil {
			done <- answer{nil, err}
			return
		}
		data, err := io.ReadAll(io.LimitReader(r, limit+1))
		if c, ok := r.(*os.File); ok && c != os.Stdin {
			c.Close()
		}
		if err == nil && int64(len(data)) > limit {
			err = &tooLarge{0, limit}
		}
		done <- answer{data, err}
	}()
	select {
	case a := <-done:
		return a.data, a.err
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

// readingError is the exit of a command whose file cannot be read.
func readingError(name string, err error) error {
	hint := ""
	if _, large := errors.AsType[*tooLarge](err); large {
		hint = limit.Bytes.Hint()
	}
	return usageError(hint, "reading %s: %s", name, fileReason(err))
}

// fixedError is readingError where no flag raises the limit.
func fixedError(name string, err error) error {
	return usageError("", "reading %s: %s", name, fileReason(err))
}
