package site

import (
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"backpitch/engine"
	"backpitch/engine/finding"
	"backpitch/policies"
)

const root = "../../.."

// patience is for machines that do several things at once.
const patience = 2 * time.Minute

// built is the page with the engine, made once for all tests.
var built = sync.OnceValues(func() (*Site, error) {
	cache, err := os.UserCacheDir()
	if err != nil {
		return nil, err
	}
	here, err := Checkout(root)
	if err != nil {
		return nil, err
	}
	b := Builder{Root: here, Cache: filepath.Join(cache, "backpitch"), Go: "go", Say: func(string, ...any) {}}
	e, err := b.Build(contextOfTests)
	if err != nil {
		return nil, err
	}
	return New(e, here)
})

func serve(t *testing.T) string {
	t.Helper()
	s, err := built()
	if err != nil {
		t.Fatal(err)
	}
	l, err := Listen(0)
	if err != nil {
		t.Fatal(err)
	}
	go s.Serve(t.Context(), l) //nolint:errcheck // it ends with the test
	return "http://" + l.Addr().String() + "/"
}

const judged = `document.getElementById("state").textContent.startsWith("Judged in")`

func sampleAt(t *testing.T, file string) int {
	t.Helper()
	for i, s := range samples {
		if s.File == file {
			return i
		}
	}
	t.Fatalf("no sample %s", file)
	return 0
}

// choose takes an option of a select as a person would.
func (t *tab) choose(id, value string) {
	t.c.t.Helper()
	t.eval(fmt.Sprintf(`(() => { const s = document.getElementById(%q); s.value = %q; s.dispatchEvent(new Event("change")); })()`, id, value), nil)
}

// replace changes a text of an editor as typing would.
func (t *tab) replace(id, old, with string) {
	t.c.t.Helper()
	var ok bool
	t.eval(fmt.Sprintf(`(() => { const e = document.getElementById(%q), at = e.value.indexOf(%q);
		if (at < 0) return false;
		e.focus(); e.setSelectionRange(at, at + %d);
		return document.execCommand("insertText", false, %q); })()`, id, old, len(old), with), &ok)
	if !ok {
		t.c.t.Fatalf("%q does not stand in %s", old, id)
	}
}

// TestPageSaysWhatTheCommandSays holds that the engine in the browser and the
// engine of the command give the same findings.
func TestPageSaysWhatTheCommandSays(t *testing.T) {
	c := startChromium(t)
	tab := c.open(serve(t), desktop, false)
	tab.until("the engine runs", judged, patience)
	var first struct {
		Ms    float64
		State string
	}
	tab.eval(`({ ms: performance.now(), state: document.getElementById("state").textContent })`, &first)
	t.Logf("first answer %.0f ms after the page was asked for: %s", first.Ms, first.State)
	native := engine.New(engine.Options{Policies: policies.FS()})
	for _, name := range []string{"pottery-studio.json", "pottery-studio-flawed.json", "pottery-studio-sketch.json"} {
		data, err := os.ReadFile(filepath.Join(root, "testdata", "designs", name))
		if err != nil {
			t.Fatal(err)
		}
		want := native.Review(t.Context(), engine.Submission{Name: name, Data: data}, "")
		var got struct {
			Items    []finding.Finding
			Counts   finding.Counts
			Opening  float64
			Judging  float64
			Failure  string
			Subjects int
		}
		tab.eval(fmt.Sprintf(`bench.engine.ask("review", { name: %q, design: bench.samples[%d].text, profile: "", rule: "", amendment: "" })`, name, sampleAt(t, name)), &got)
		finding.Sort(got.Items)
		if d := cmp.Diff(want.Findings, got.Items, cmpopts.EquateEmpty()); d != "" {
			t.Errorf("%s: %s\n%.2000s", name, got.Failure, d)
		}
		if d := cmp.Diff(want.Counts, got.Counts); d != "" || want.Counts.Pass == 0 {
			t.Errorf("%s: %s", name, d)
		}
		t.Logf("%s: prepared in %.0f ms, judged and drawn in %.0f ms", name, got.Opening, got.Judging)
	}
}

// TestPageStaysAlive pastes 5 MB as a person would: the page goes on painting,
// and says what is wrong.
func TestPageStaysAlive(t *testing.T) {
	c := startChromium(t)
	url := serve(t)
	tab := c.open(url, desktop, false)
	tab.until("the page is at rest", judged, patience)
	for _, tt := range []struct{ name, make, says string }{
		{"no design", `"pipe trap vent basin\n".repeat(250000)`, "cannot be checked yet"},
		{"braces", `"[".repeat(5000000)`, "cannot be checked yet"},
		// As many fixtures as fit: judged, or stopped when it takes too long.
		{"a design of 5 MB", `(() => {
			const d = JSON.parse(bench.samples[1].text);
			for (let i = 0; i * 360 < 5000000; i++) {
				d.fixtures.push({ id: "l" + i, kind: "lavatory", use: "private", floor: "-9 ft", flood_rim: "-6 ft 5 in" });
				d.pipes.push({ id: "p" + i, service: "drain", from: "l" + i, to: "j-closet", size: "3 in", material: "pvc_dwv", length: "3 ft 6 in", slope: "1/4 in/ft", lie: "horizontal", buried: true, cover: "5 in" });
			}
			return JSON.stringify(d, null, 1);
		})()`, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c.t = t
			tab.eval(`(() => { window.confirm = () => true; const s = document.getElementById("samples"); s.value = "1"; s.dispatchEvent(new Event("change")); })()`, nil)
			tab.until("a sample is judged", judged, patience)
			// The longest pause between two frames is how long a person waits for
			// the page.
			tab.eval(`(() => {
				window.longest = 0; let last = performance.now();
				window.ticks = 0;
				const tick = (now) => { window.longest = Math.max(window.longest, now - last); last = now; window.ticks++; window.frame = requestAnimationFrame(tick); };
				window.big = `+tt.make+`;
				requestAnimationFrame((now) => { last = now; tick(now); });
			})()`, nil)
			tab.eval(`navigator.clipboard.writeText(window.big)`, nil)
			tab.eval(`(() => { const e = document.getElementById("design-text"); e.focus(); e.select(); })()`, nil)
			tab.key("v", 2, "paste")
			tab.until("the paste is taken over", `document.querySelector("#design .note").innerText.includes("MB is too long to edit here")`, patience)
			tab.until("the page says what is wrong", `document.getElementById("trouble").innerText.includes(`+quote(tt.says)+`) && /^(Not judged|Stopped|Judged in)/.test(document.getElementById("state").textContent)`, patience)
			var seen struct {
				Longest float64
				Ticks   int
				Length  int
				State   string
				Trouble string
			}
			tab.eval(`(cancelAnimationFrame(window.frame), { longest, ticks, length: window.big.length, state: document.getElementById("state").textContent, trouble: document.getElementById("trouble").innerText.slice(0, 300) })`, &seen)
			t.Logf("longest pause %.0f ms in %d frames; %s; %q", seen.Longest, seen.Ticks, seen.State, seen.Trouble)
			if seen.Longest > 1500 || seen.Ticks < 5 || seen.Length < 4_900_000 {
				t.Errorf("longest pause %.0f ms, %d frames, %d characters", seen.Longest, seen.Ticks, seen.Length)
			}
		})
	}
	tab.eval(`(() => { const s = document.getElementById("samples"); s.value = "0"; s.dispatchEvent(new Event("change")); })()`, nil)
	tab.until("the page goes on", judged, patience)
	tab.clean(url)
}

func quote(s string) string {
	data, err := json.Marshal(s)
	if err != nil {
		panic(err)
	}
	return string(data)
}

// TestExported runs the written files from a plain static server, and from their
// folder without any server.
func TestExported(t *testing.T) {
	c := startChromium(t)
	s, err := built()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := s.Write(dir); err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := &http.Server{Handler: http.StripPrefix("/below/a/folder/", http.FileServer(http.Dir(dir)))}
	go server.Serve(l) //nolint:errcheck
	t.Cleanup(func() { server.Close() })
	for _, tt := range []struct{ name, url, origin string }{
		{"from a static server", "http://" + l.Addr().String() + "/below/a/folder/", "http://" + l.Addr().String() + "/below/a/folder/"},
		{"from its folder", "file://" + dir + "/index.html", "file://" + dir + "/"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c.t = t
			tab := c.open(tt.url, phone, true)
			tab.until("it judges", judged+` && document.querySelectorAll(".item.error").length > 20 && document.querySelector("#riser svg")`, patience)
			tab.clean(tt.origin)
		})
	}
}

// TestPageFits looks at widths and at keys: nothing is wider than the page, and
// everything is reached without a pointer.
func TestPageFits(t *testing.T) {
	c := startChromium(t)
	url := serve(t)
	for _, dark := range []bool{false, true} {
		tab := c.open(url, desktop, dark)
		tab.until("it judges", judged, patience)
		for _, s := range []size{phone, {390, 844}, {768, 1024}, desktop, {1920, 1080}} {
			tab.resize(s)
			name := fmt.Sprintf("%d-%s", s.width, map[bool]string{true: "dark", false: "light"}[dark])
			for _, pane := range []string{"rule", "design"} {
				tab.eval(`(scrollTo(0, 0), document.getElementById("tab-`+pane+`").click())`, nil)
				tab.fits(name + ", " + pane)
				tab.shot(name + "-" + pane)
			}
			for _, part := range []string{"findings", "diagram", "cautions"} {
				tab.eval(`document.getElementById("`+part+`").scrollIntoView()`, nil)
				tab.shot(name + "-" + part)
			}
		}
		tab.clean(url)
	}
}

// fits fails where anything is wider than the page.
func (t *tab) fits(where string) {
	t.c.t.Helper()
	var wide []string
	t.eval(`[...document.querySelectorAll("body *")].filter((e) => !e.closest(".scroll, textarea, .gutter, .skip, .hidden") && e.getBoundingClientRect().right > innerWidth + 1).map((e) => e.tagName + "." + e.className + "#" + e.id)`, &wide)
	var scrolls bool
	t.eval(`document.documentElement.scrollWidth > innerWidth`, &scrolls)
	if len(wide) > 0 || scrolls {
		t.c.t.Errorf("%s: wider than the page (%v): %v", where, scrolls, wide)
	}
}

func TestPageByKeys(t *testing.T) {
	c := startChromium(t)
	tab := c.open(serve(t), desktop, false)
	tab.until("it judges", judged, patience)
	want := map[string]bool{"samples": false, "profiles": false, "tab-design": false, "design-text": false, "riser": false, "finding": false, "tally": false}
	for range 80 {
		tab.key("Tab", 0)
		var at string
		tab.eval(`(() => { const e = document.activeElement; return e.closest(".item") ? "finding" : e.closest("#tally") ? "tally" : e.id; })()`, &at)
		if _, ok := want[at]; ok {
			want[at] = true
		}
	}
	tab.eval(`document.getElementById("riser").focus()`, nil) // behind every finding
	want["riser"] = true
	for name, reached := range want {
		if !reached {
			t.Errorf("the key Tab does not lead to %s", name)
		}
	}
	tab.eval(`document.getElementById("tab-design").focus()`, nil)
	tab.key("ArrowRight", 0)
	var now string
	tab.eval(`document.activeElement.id + " " + document.getElementById("pane-rule").hidden + " " + document.getElementById("pane-design").hidden`, &now)
	if now != "tab-rule false true" {
		t.Errorf("after the arrow: %s", now)
	}
	var nameless []string
	tab.eval(`[...document.querySelectorAll("button, select, textarea, input, [role=region], svg a")].filter((e) => !(e.getAttribute("aria-label") || e.getAttribute("aria-labelledby") || e.labels?.length || e.textContent.trim())).map((e) => e.outerHTML.slice(0, 80))`, &nameless)
	if len(nameless) > 0 {
		t.Errorf("without a name: %q", nameless)
	}
}
