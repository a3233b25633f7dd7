package policy

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"backpitch/engine/profile"
)

// Files is a file system in memory: the text of files by their path. What it
// holds never changes.
type Files map[string][]byte

// Sources returns what is needed to judge under one profile and no more: the
// helpers, the rules it adopts and the documents of its chain. With tests, the
// Rego tests beside them are there too.
func Sources(fsys fs.FS, p *profile.Profile, tests bool) (Files, error) {
	out := Files{}
	for _, id := range p.Chain {
		if err := out.add(fsys, path.Join("profiles", id, "profile.json")); err != nil {
			return nil, err
		}
	}
	found, err := fs.Glob(fsys, "lib/*.rego")
	if err != nil {
		return nil, fmt.Errorf("listing helpers: %w", err)
	}
	for _, f := range found {
		if isRule(f) || tests {
			if err := out.add(fsys, f); err != nil {
				return nil, err
			}
		}
	}
	roots := []string{"rules"}
	for _, id := range p.Chain {
		roots = append(roots, path.Join("profiles", id, "rules"))
	}
	for _, id := range p.Rules() {
		for _, root := range roots {
			rule := path.Join(root, id)
			err := out.add(fsys, rule+".rego")
			if errors.Is(err, fs.ErrNotExist) {
				continue
			}
			if err == nil && tests {
				err = out.add(fsys, rule+"_test.rego")
			}
			if err != nil && !errors.Is(err, fs.ErrNotExist) {
				return nil, err
			}
		}
	}
	return out, nil
}

func (f Files) add(fsys fs.FS, name string) error {
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		return fmt.Errorf("reading policies: %w", err)
	}
	f[name] = data
	return nil
}

// Open implements fs.FS.
func (f Files) Open(name string) (fs.File, error) {
	if !fs.ValidPath(name) {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrInvalid}
	}
	if data, ok := f[name]; ok {
		return &memFile{memInfo{path.Base(name), int64(len(data)), false}, bytes.NewReader(data)}, nil
	}
	entries := f.entries(name)
	if len(entries) == 0 && name != "." {
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &memDir{memInfo: memInfo{path.Base(name), 0, true}, entries: entries}, nil
}

// entries lists a folder, sorted by name.
func (f Files) entries(dir string) []fs.DirEntry {
	prefix := dir + "/"
	if dir == "." {
		prefix = ""
	}
	infos := map[string]memInfo{}
	for name, data := range f {
		rest, below := strings.CutPrefix(name, prefix)
		if !below {
			continue
		}
		first, _, deeper := strings.Cut(rest, "/")
		info := memInfo{name: first, dir: deeper}
		if !deeper {
			info.size = int64(len(data))
		}
		infos[first] = info
	}
	out := make([]fs.DirEntry, 0, len(infos))
	for _, info := range infos {
		out = append(out, fs.FileInfoToDirEntry(info))
	}
	slices.SortFunc(out, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	return out
}

type memInfo struct {
	name string
	size int64
	dir  bool
}

func (i memInfo) Name() string       { return i.name }
func (i memInfo) Size() int64        { return i.size }
func (i memInfo) IsDir() bool        { return i.dir }
func (i memInfo) ModTime() time.Time { return time.Time{} }
func (i memInfo) Sys() any           { return nil }
func (i memInfo) Mode() fs.FileMode {
	if i.dir {
		return fs.ModeDir | 0o555
	}
	return 0o444
}

type memFile struct {
	memInfo
	*bytes.Reader
}

func (f *memFile) Size() int64                { return f.size }
func (f *memFile) Stat() (fs.FileInfo, error) { return f.memInfo, nil }
func (f *memFile) Close() error               { return nil }

type memDir struct {
	memInfo
	entries []fs.DirEntry
}

func (d *memDir) Stat() (fs.FileInfo, error) { return d.memInfo, nil }
func (d *memDir) Close() error               { return nil }
func (d *memDir) Read([]byte) (int, error) {
	return 0, &fs.PathError{Op: "read", Path: d.name, Err: errors.New("is a folder")}
}

// ReadDir implements fs.ReadDirFile.
func (d *memDir) ReadDir(n int) ([]fs.DirEntry, error) {
	if n > 0 && len(d.entries) == 0 {
		return nil, io.EOF
	}
	if n <= 0 || n > len(d.entries) {
		n = len(d.entries)
	}
	out := d.entries[:n]
	d.entries = d.entries[n:]
	return out, nil
}
