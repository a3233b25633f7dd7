package site

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

//go:embed page
var page embed.FS

// File is one file of the page.
type File struct {
	Name string
	Type string
	Data []byte
	tag  string // of its content
}

// Site is the page: its files by name.
type Site struct{ files map[string]File }

// types gives each file its content type; what is not here is not served.
var types = map[string]string{
	".html": "text/html; charset=utf-8",
	".css":  "text/css; charset=utf-8",
	".js":   "text/javascript; charset=utf-8",
	".json": "application/json",
	".gz":   "application/gzip",
}

// Engine is what the Go toolchain gives: the engine as gzipped WebAssembly, and
// the script that starts it, which belong to one version of Go.
type Engine struct {
	Wasm   []byte
	Script []byte
}

// New puts the page together: its own files, the engine, and the sample designs
// below root.
func New(e Engine, root string) (*Site, error) {
	s := &Site{files: map[string]File{}}
	entries, err := page.ReadDir("page")
	if err != nil {
		return nil, fmt.Errorf("reading the page: %w", err)
	}
	for _, entry := range entries {
		data, err := page.ReadFile("page/" + entry.Name())
		if err != nil {
			return nil, fmt.Errorf("reading the page: %w", err)
		}
		s.add(entry.Name(), data)
	}
	samples, err := readSamples(root)
	if err != nil {
		return nil, err
	}
	list, err := json.Marshal(samples)
	if err != nil {
		return nil, fmt.Errorf("writing the samples: %w", err)
	}
	s.add("samples.js", []byte("bench.samples = "+string(list)+";\n"))
	s.add("wasm_exec.js", e.Script)
	s.add("engine.wasm.gz", e.Wasm)
	return s, nil
}

func (s *Site) add(name string, data []byte) {
	sum := sha256.Sum256(data)
	s.files[name] = File{name, types[filepath.Ext(name)], data, hex.EncodeToString(sum[:12])}
}

// Files lists the files, sorted by name.
func (s *Site) Files() []File {
	out := make([]File, 0, len(s.files))
	for _, f := range s.files {
		out = append(out, f)
	}
	slices.SortFunc(out, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	return out
}

// Export lists the files for a folder: the page, and a script that carries the
// engine for a page that is opened from the folder itself, where a browser
// fetches nothing.
func (s *Site) Export() []File {
	worker := string(s.files["wasm_exec.js"].Data) + "\n" + string(s.files["worker.js"].Data)
	var b bytes.Buffer
	b.WriteString("bench.carried = ")
	e := json.NewEncoder(&b)
	if err := e.Encode(map[string]string{"worker": worker, "engine": base64.StdEncoding.EncodeToString(s.files["engine.wasm.gz"].Data)}); err != nil {
		panic(err) // two strings always encode
	}
	return append(s.Files(), File{Name: "carried.js", Type: types[".js"], Data: b.Bytes()})
}

// Write writes the exported files into a folder, each whole or not at all.
func (s *Site) Write(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for _, f := range s.Export() {
		if err := writeWhole(filepath.Join(dir, f.Name), f.Data); err != nil {
			return err
		}
	}
	return nil
}

// sample is a design to begin with.
type sample struct {
	File  string `json:"file"`
	Title string `json:"title"`
	Text  string `json:"text"`
}

// samples are the demos, and sound designs of other kinds.
var samples = []sample{
	{File: "pottery-studio-flawed.json", Title: "Pottery studio, with faults to find"},
	{File: "pottery-studio.json", Title: "Pottery studio, sound"},
	{File: "pottery-studio-sketch.json", Title: "Pottery studio, a first sketch"},
	{File: "bases/row-house.json", Title: "Row house"},
	{File: "bases/workshop.json", Title: "Workshop"},
	{File: "bases/air-valves.json", Title: "Air admittance valves"},
}

func readSamples(root string) ([]sample, error) {
	out := slices.Clone(samples)
	for i := range out {
		data, err := os.ReadFile(filepath.Join(root, "testdata", "designs", filepath.FromSlash(out[i].File)))
		if err != nil {
			return nil, fmt.Errorf("reading the samples: %w", err)
		}
		out[i].File = filepath.Base(out[i].File)
		out[i].Text = string(data)
	}
	return out, nil
}

// zip compresses as far as it goes, the same bytes each time.
func zip(out io.Writer, in io.Reader) error {
	w, err := gzip.NewWriterLevel(out, gzip.BestCompression)
	if err != nil {
		return err
	}
	if _, err := io.Copy(w, in); err != nil {
		return err
	}
	return w.Close()
}
