package main

import (
	"errors"
	"io/fs"
	"sort"
)

// overlay is a read-only file system that shows top's files over base's.
type overlay struct {
	top, base fs.FS
}

// Open implements fs.FS.
func (o overlay) Open(name string) (fs.File, error) {
	f, err := o.top.Open(name)
	if err == nil || !errors.Is(err, fs.ErrNotExist) {
		return f, err
	}
	return o.base.Open(name)
}

// ReadDir implements fs.ReadDirFS: the entries of both, top's first choice.
func (o overlay) ReadDir(name string) ([]fs.DirEntry, error) {
	top, topErr := fs.ReadDir(o.top, name)
	base, baseErr := fs.ReadDir(o.base, name)
	if topErr != nil && baseErr != nil {
		return nil, topErr
	}
	byName := map[string]fs.DirEntry{}
	for _, e := range base {
		byName[e.Name()] = e
	}
	for _, e := range top {
		byName[e.Name()] = e
	}
	entries := make([]fs.DirEntry, 0, len(byName))
	for _, e := range byName {
		entries = append(entries, e)
	}
	sort.Slice(entries, func(i, j int) bool { return entries[i].Name() < entries[j].Name() })
	return entries, nil
}
