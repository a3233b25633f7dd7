package site

import (
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"backpitch/engine/report"
)

var contextOfTests = context.Background()

// bare is the page without an engine, for tests that run none.
func bare(t *testing.T) *Site {
	t.Helper()
	s, err := New(Engine{Wasm: []byte("\x1f\x8bengine"), Script: []byte("// script")}, root)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func get(s *Site, change func(*http.Request)) *http.Response {
	r := httptest.NewRequest(http.MethodGet, "http://127.0.0.1:8642/", nil)
	r.RemoteAddr = "127.0.0.1:40000"
	if change != nil {
		change(r)
	}
	w := httptest.NewRecorder()
	s.Handler().ServeHTTP(w, r)
	return w.Result()
}

func TestHandlerServesThisComputerAlone(t *testing.T) {
	s := bare(t)
	for _, tt := range []struct {
		name   string
		change func(*http.Request)
		want   int
	}{
		{"the page", nil, 200},
		{"by name", func(r *http.Request) { r.Host = "localhost:8642" }, 200},
		{"by the address of version 6", func(r *http.Request) { r.Host = "[::1]:8642"; r.RemoteAddr = "[::1]:40000" }, 200},
		{"without a port", func(r *http.Request) { r.Host = "localhost" }, 200},
		{"from another computer", func(r *http.Request) { r.RemoteAddr = "192.0.2.7:40000" }, 403},
		{"by a foreign name", func(r *http.Request) { r.Host = "example.org:8642" }, 403},
		{"by a name that looks like ours", func(r *http.Request) { r.Host = "localhost.example.org" }, 403},
		{"by a name with two ports", func(r *http.Request) { r.Host = "localhost:80:80" }, 403},
		{"without a host", func(r *http.Request) { r.Host = "" }, 403},
		{"a post", func(r *http.Request) { r.Method = http.MethodPost }, 405},
		{"a head", func(r *http.Request) { r.Method = http.MethodHead }, 200},
		{"a folder", func(r *http.Request) { r.URL.Path = "/page/" }, 404},
		{"a file beside", func(r *http.Request) { r.URL.Path = "/../go.mod" }, 404},
		{"a file of the folder form", func(r *http.Request) { r.URL.Path = "/index.html/" }, 404},
		{"nothing", func(r *http.Request) { r.URL.Path = "//" }, 404},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := get(s, tt.change)
			if got.StatusCode != tt.want {
				t.Errorf("status %d, want %d", got.StatusCode, tt.want)
			}
			policy := got.Header.Get("Content-Security-Policy")
			for _, part := range []string{"default-src 'none'", "script-src 'self' 'wasm-unsafe-eval'", "connect-src 'self'", "form-action 'none'", "frame-ancestors 'none'"} {
				if !strings.Contains(policy, part) {
					t.Errorf("content policy %q lacks %s", policy, part)
				}
			}
			if strings.Contains(policy, "unsafe-inline") || strings.Contains(policy, "'unsafe-eval'") || got.Header.Get("X-Content-Type-Options") != "nosniff" {
				t.Errorf("headers %v", got.Header)
			}
		})
	}
}

func TestFiles(t *testing.T) {
	s := bare(t)
	var names []string
	for _, f := range s.Files() {
		names = append(names, f.Name)
		if f.Type == "" {
			t.Errorf("%s has no content type", f.Name)
		}
		got := get(s, func(r *http.Request) { r.URL.Path = "/" + f.Name })
		if got.StatusCode != 200 || got.Header.Get("Content-Type") != f.Type || got.Header.Get("Content-Encoding") != "" {
			t.Errorf("%s: %d %v", f.Name, got.StatusCode, got.Header)
		}
		again := get(s, func(r *http.Request) {
			r.URL.Path = "/" + f.Name
			r.Header.Set("If-None-Match", got.Header.Get("ETag"))
		})
		if again.StatusCode != http.StatusNotModified {
			t.Errorf("%s is sent again: %d", f.Name, again.StatusCode)
		}
	}
	want := []string{"bench.css", "bench.js", "diagram.js", "editor.js", "engine.js", "engine.wasm.gz", "findings.js", "index.html", "page.js", "samples.js", "wasm_exec.js", "worker.js"}
	if d := cmp.Diff(want, names); d != "" {
		t.Errorf("files of the page:\n%s", d)
	}
	var exported []string
	for _, f := range s.Export() {
		exported = append(exported, f.Name)
	}
	if d := cmp.Diff(append(want, "carried.js"), exported); d != "" {
		t.Errorf("files of the export:\n%s", d)
	}
}

// TestWrite holds that an export may be written over an older one, leaves
// nothing else behind and touches no other file.
func TestWrite(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	for range 2 {
		if err := bare(t).Write(dir); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "of-others.txt"), []byte("kept"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"of-others.txt": "kept"}
	for _, f := range bare(t).Export() {
		want[f.Name] = string(f.Data)
	}
	got := map[string]string{}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		got[e.Name()] = string(data)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("the folder:\n%.1000s", d)
	}
	if err := bare(t).Write(filepath.Join(dir, "of-others.txt")); err == nil {
		t.Error("it writes into a file as if it were a folder")
	}
}

// TestPageText holds what the page's own text must say whatever its scripts do.
func TestPageText(t *testing.T) {
	data, err := page.ReadFile("page/index.html")
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	for _, c := range report.Cautions {
		if !strings.Contains(text, "<li>"+c+"</li>") {
			t.Errorf("the page lacks the caution %q", c)
		}
	}
	for _, part := range []string{`content="` + Policy + `"`, "pre-check, not an approval", "authority having jurisdiction"} {
		if !strings.Contains(text, part) {
			t.Errorf("the page lacks %q", part)
		}
	}
	for _, f := range bare(t).Files() {
		for _, outside := range []string{"http://", "https://", "//cdn"} {
			if f.Name != "samples.js" && strings.Contains(string(f.Data), outside) {
				t.Errorf("%s names another place: %s", f.Name, outside)
			}
		}
	}
}

// TestListen holds that no other computer can reach the port.
func TestListen(t *testing.T) {
	l, err := Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(l.Addr().String(), "127.0.0.1:") {
		t.Errorf("it listens on %s", l.Addr())
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- bare(t).Serve(ctx, l) }()
	r, err := http.Get("http://" + l.Addr().String() + "/")
	if err != nil || r.StatusCode != 200 {
		t.Fatalf("%v, %v", r, err)
	}
	r.Body.Close()
	stop()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Error("it serves on after it was stopped")
	}
}

func TestWithoutWhatItNeeds(t *testing.T) {
	if _, err := Checkout(t.TempDir()); err == nil || !strings.Contains(err.Error(), "no checkout") {
		t.Errorf("no checkout: %v", err)
	}
	here, err := Checkout(filepath.Join(root, "engine", "report"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(here, "go.mod")); err != nil {
		t.Error(err)
	}
	_, err = Builder{Root: here, Cache: t.TempDir(), Go: "no-such-toolchain"}.Build(t.Context())
	if err == nil || !strings.Contains(err.Error(), "no Go toolchain") {
		t.Errorf("no toolchain: %v", err)
	}
	_, err = New(Engine{}, t.TempDir())
	if err == nil || !strings.Contains(err.Error(), "samples") {
		t.Errorf("no samples: %v", err)
	}
}
