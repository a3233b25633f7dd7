package main

import (
	"errors"
	"fmt"
	"io/fs"
	"sort"

	"backpitch/engine/bundle"
)

// bounded is a folder of somebody's rules and profiles: no file of it may be
// larger than one of a bundle, or block or never end when it is read.
type bounded struct{ fs.FS }

// Open implements fs.FS.
func (b bounded) Open(name string) (fs.File, error) {
	info, err := fs.Stat(b.FS, name)
	if err != nil {
		return nil, err
	}
	most := bundle.DefaultLimits().Member
	switch {
	case info.IsDir():
	case !info.Mode().IsRegular():
		err = errIrregular
	case info.Size() > most:
		err = fmt.Errorf("has %d bytes; at most %d are read, and no flag raises this limit", info.Size(), most)
	}
	if err != nil {
		return nil, &fs.PathError{Op: "open", Path: name, Err: err}
	}
	return b.FS.Open(name)
}

// ReadDir implements fs.ReadDirFS.
func (b bounded) ReadDir(name string) ([]fs.DirEntry, error) { return fs.ReadDir(b.FS, name) }

// Stat implements fs.StatFS: what cannot be read is there all the same.
func (b bounded) Stat(name string) (fs.FileInfo, error) { return fs.Stat(b.FS, name) }

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

// Stat implements fs.StatFS.
func (o overlay) Stat(name string) (fs.FileInfo, error) {
	info, err := fs.Stat(o.top, name)
	if err == nil || !errors.Is(err, fs.ErrNotExist) {
		return info, err
	}
	return fs.Stat(o.base, name)
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
