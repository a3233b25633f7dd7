package main

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"text/template"

	"github.com/urfave/cli/v2"

	"backpitch/policies"
)

// What `profile new` and `rule new` write. The texts are templates, so that
// they can be read and tested as what they are.
//
//go:embed scaffold
var scaffolds embed.FS

var scaffoldTemplates = sync.OnceValue(func() *template.Template {
	return template.Must(template.New("").Funcs(template.FuncMap{
		"json": func(s string) (string, error) {
			text, err := json.Marshal(s)
			return string(text), err
		},
	}).ParseFS(scaffolds, "scaffold/*.tmpl"))
})

// fill renders a scaffold.
func fill(name string, data any) []byte {
	var b bytes.Buffer
	if err := scaffoldTemplates().ExecuteTemplate(&b, name+".tmpl", data); err != nil {
		panic("backpitch: scaffold " + name + ": " + err.Error())
	}
	return b.Bytes()
}

// newFlags are those of the commands that make something in a folder.
func newFlags(more ...cli.Flag) []cli.Flag {
	return append(more, &cli.StringFlag{Name: "policies", Value: ".", Usage: "folder that holds, or is to hold, `DIR`/rules and DIR/profiles"})
}

// workplace is the folder that something new is made in.
type workplace struct {
	dir  string
	fsys fs.FS // the built-in policies with the folder laid over them
}

func openWorkplace(c *cli.Context) (workplace, error) {
	w := workplace{dir: c.String("policies"), fsys: policies.FS()}
	info, err := os.Stat(w.dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return w, nil // it is made
	case err != nil:
		return w, usageError("", "reading policies: %s", pathReason(err))
	case !info.IsDir():
		return w, usageError("name the folder that is to hold rules and profiles", "%q is not a folder", w.dir)
	}
	w.fsys = overlay{top: bounded{os.DirFS(w.dir)}, base: w.fsys}
	return w, nil
}

// fresh is a file that does not exist yet.
type fresh struct {
	path string // below the folder, with slashes
	text []byte
}

// has reports whether a file stands in the folder itself.
func (w workplace) has(path string) bool {
	_, err := os.Lstat(w.at(path))
	return err == nil
}

func (w workplace) at(path string) string { return filepath.Join(w.dir, filepath.FromSlash(path)) }

// create writes new files, all or none; one that stands there already is never
// overwritten.
func (w workplace) create(files ...fresh) (err error) {
	for _, f := range files {
		if w.has(f.path) {
			return usageError("nothing is overwritten: take another name, or remove it first", "%s stands there already", w.at(f.path))
		}
	}
	var made []string
	defer func() {
		if err != nil {
			for _, path := range made {
				os.Remove(path) //nolint:errcheck // what could be made can be removed; the first error counts
			}
		}
	}()
	for _, f := range files {
		path := w.at(f.path)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return usageError("", "making a folder: %s", pathReason(err))
		}
		out, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if err != nil {
			return usageError("", "writing %s: %s", path, fileReason(err))
		}
		made = append(made, path)
		_, err = out.Write(f.text)
		if err := errors.Join(err, out.Close()); err != nil {
			return usageError("", "writing %s: %s", path, fileReason(err))
		}
	}
	return nil
}

// told prints what was written, and what to do next.
func (w workplace) told(c *cli.Context, files []fresh, more, next string) {
	for _, f := range files {
		fmt.Fprintf(c.App.Writer, "wrote %s\n", filepath.ToSlash(w.at(f.path)))
	}
	if more != "" {
		fmt.Fprintln(c.App.Writer, more)
	}
	fmt.Fprintf(c.App.Writer, "next: %s\n", next)
}
