package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// TestOnlyTheBenchListens holds that no code of the project but that of the
// bench's page can open a connection, and that no other command has that code.
func TestOnlyTheBenchListens(t *testing.T) {
	var listens, uses []string
	for _, top := range []string{"cmd", "engine", "policies", "schema"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(p string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go") {
				return err
			}
			f, err := parser.ParseFile(token.NewFileSet(), p, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			rel, err := filepath.Rel(root, p)
			if err != nil {
				return err
			}
			for _, spec := range f.Imports {
				name, err := strconv.Unquote(spec.Path.Value)
				if err != nil {
					return err
				}
				switch {
				case name == "net", strings.HasPrefix(name, "net/") && name != "net/url":
					listens = append(listens, filepath.ToSlash(filepath.Dir(rel)))
				case name == "backpitch/engine/bench/site":
					uses = append(uses, filepath.ToSlash(rel))
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	slices.Sort(listens)
	if got := slices.Compact(listens); !slices.Equal(got, []string{"engine/bench/site"}) {
		t.Errorf("packages that import the network: %q", got)
	}
	if !slices.Equal(uses, []string{"cmd/backpitch/bench.go"}) {
		t.Errorf("files that import the page: %q", uses)
	}
}
