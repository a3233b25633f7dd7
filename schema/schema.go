// Package schema holds the JSON Schemas of the documents backpitch reads and
// writes.
//
// What enters: the name of a schema. What leaves: its text, or the schema
// compiled and ready to validate. Every schema is embedded; none is fetched,
// and a reference to a schema that is not embedded is refused.
package schema

import (
	"bytes"
	"embed"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v5"
)

//go:embed *.json
var files embed.FS

// extensions end the file names of schemas, longest first; a name is what
// stands before.
var extensions = []string{".schema.json", ".json"}

// Names returns the names of the schemas, sorted: "design", "facts", ...
func Names() []string {
	entries, err := fs.ReadDir(files, ".")
	if err != nil {
		panic("schema: " + err.Error())
	}
	names := make([]string, 0, len(entries))
	for _, e := range entries {
		names = append(names, nameOf(e.Name()))
	}
	return names
}

func nameOf(file string) string {
	for _, ext := range extensions {
		if name, ok := strings.CutSuffix(file, ext); ok {
			return name
		}
	}
	return file
}

// Raw returns the text of the schema with that name. The slice is fresh.
func Raw(name string) ([]byte, error) {
	for _, ext := range extensions {
		if data, err := files.ReadFile(name + ext); err == nil {
			return data, nil
		}
	}
	return nil, fmt.Errorf("no schema is called %q; there are %s", name, strings.Join(Names(), ", "))
}

// Compiled is a schema ready to validate, safe for many goroutines.
type Compiled = jsonschema.Schema

var compiled struct {
	sync.Mutex
	byName map[string]*Compiled
}

// Compile returns the schema with that name, compiled at its first use.
// Formats are not asserted: package quantity reads quantities.
func Compile(name string) (*Compiled, error) {
	compiled.Lock()
	defer compiled.Unlock()
	if s := compiled.byName[name]; s != nil {
		return s, nil
	}
	data, err := Raw(name)
	if err != nil {
		return nil, err
	}
	s, err := compile(name, data)
	if err != nil {
		return nil, fmt.Errorf("schema %q: %w", name, err)
	}
	if compiled.byName == nil {
		compiled.byName = map[string]*Compiled{}
	}
	compiled.byName[name] = s
	return s, nil
}

func compile(name string, data []byte) (*Compiled, error) {
	c := jsonschema.NewCompiler()
	c.Draft = jsonschema.Draft2020
	c.LoadURL = func(url string) (io.ReadCloser, error) {
		return nil, fmt.Errorf("%q is not embedded", url)
	}
	url := "https://backpitch.invalid/schema/" + name + ".schema.json"
	if err := c.AddResource(url, bytes.NewReader(data)); err != nil {
		return nil, err
	}
	return c.Compile(url)
}
