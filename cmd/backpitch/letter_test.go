package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// letterFolder holds the expected correction lists and the checks of the page.
var letterFolder = filepath.Join(root, "testdata", "html")

func letter(t *testing.T, args ...string) string {
	t.Helper()
	out, stderr, _ := command(t, append([]string{"review"}, args...)...)
	if stderr != "" {
		t.Fatalf("stderr: %s", stderr)
	}
	return out
}

// TestLetterGoldens keeps the correction lists of the flawed demo, of the sketch
// and of both in one document.
func TestLetterGoldens(t *testing.T) {
	for format, extension := range map[string]string{"markdown": ".md", "html": ".html"} {
		for name, args := range map[string][]string{
			"flawed": {"--date", "2026-02-03", "--applicant", "Kiln Lane Pottery", "--reviewer", "plan review desk", flawed},
			"sketch": {sketch},
			"batch":  {flawed, sketch},
		} {
			golden(t, filepath.Join(letterFolder, name+extension), letter(t, append([]string{"--format", format}, args...)...))
		}
	}
}

// TestLetterSaysEverything holds that no finding of the review is missing in
// its letter: each message, each section and each missing fact's rule is there.
func TestLetterSaysEverything(t *testing.T) {
	for _, design := range []string{flawed, sketch} {
		reviews, _ := reviewed(t, design)
		text := letter(t, "--format", "markdown", design)
		plain := strings.NewReplacer(`\`, "").Replace(text)
		numbered := 0
		for _, f := range reviews[0].Findings {
			switch f.Outcome {
			case "fail":
				numbered++
				if !strings.Contains(plain, strings.TrimPrefix(f.Message, f.SubjectName)) || !strings.Contains(plain, f.SubjectName) || !strings.Contains(plain, f.Remedy) {
					t.Errorf("%s: %s of %s is not in the letter", design, f.Rule, f.Subject)
				}
			case "open":
				if !strings.Contains(plain, f.Title[1:]) || !strings.Contains(plain, f.Section) || !strings.Contains(plain, `"`+f.Subject+`"`) && f.Subject != "building" {
					t.Errorf("%s: open %s of %s is not in the letter", design, f.Rule, f.Subject)
				}
			}
		}
		if c := reviews[0].Counts; numbered != c.Fail {
			t.Errorf("%s: %d failures, counted %d", design, numbered, c.Fail)
		}
	}
}

func TestLetterFlags(t *testing.T) {
	for want, args := range map[string][]string{
		"--date":                        {"--format", "html", "--date", "2026-02-30"},
		"stand at the head of a letter": {"--date", "2026-02-03"},
	} {
		_, stderr, code := command(t, append(append([]string{"review"}, args...), studio)...)
		if code != exitNotChecked || !strings.Contains(stderr, want) {
			t.Errorf("%v: exit %d, %s", args, code, stderr)
		}
	}
}

// TestLettersIntoFolder: a folder of letters has one of each submission.
func TestLettersIntoFolder(t *testing.T) {
	dir := t.TempDir()
	if _, stderr, code := command(t, "review", "--format", "html,markdown", "--out-dir", dir, flawed, sketch); code != exitFindings || stderr != "" {
		t.Fatalf("exit %d: %s", code, stderr)
	}
	for _, pattern := range []string{"*.html", "*.md"} {
		files, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil || len(files) != 2 {
			t.Fatalf("%s: %v %v", pattern, files, err)
		}
		for _, f := range files {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			if pattern == "*.html" && (!bytes.Contains(data, []byte("Riser diagram")) || !bytes.HasSuffix(data, []byte("</html>\n"))) {
				t.Errorf("%s is no whole letter with drawings", filepath.Base(f))
			}
		}
	}
}

// building is a design of stacks of storeys with four fixtures each; bare
// leaves sizes and slopes out.
func building(stacks, storeys int, bare bool) []byte {
	type object = map[string]any
	kinds := []string{"water_closet", "lavatory", "shower", "sink"}
	var fixtures, junctions, pipes, terminals []object
	junction := func(id string) string {
		junctions = append(junctions, object{"id": id})
		return id
	}
	pipe := func(service, id, from, to, size, lie string) {
		p := object{"id": id, "service": service, "from": from, "to": to}
		if !bare {
			p["size"], p["material"], p["length"], p["lie"] = size, "pvc_dwv", "5 ft", lie
			if lie == "horizontal" {
				p["slope"] = "1/8 in/ft"
			}
		}
		pipes = append(pipes, p)
	}
	for s := range stacks {
		below := "sewer"
		vent := ""
		for f := range storeys {
			tee := junction(fmt.Sprintf("tee-%d-%d", s, f))
			pipe("drain", "stack-"+tee, tee, below, "4 in", "vertical")
			below = tee
			joint := junction(fmt.Sprintf("vj-%d-%d", s, f))
			if vent != "" {
				pipe("vent", "riser-"+joint, vent, joint, "3 in", "vertical")
			}
			vent = joint
			at := tee
			for k := range 4 {
				id := fmt.Sprintf("%d-%d-%d", s, f, k)
				fixtures = append(fixtures, object{"id": kinds[k] + "-" + id, "kind": kinds[k], "storey": f})
				arm, branch := junction("arm-"+id), junction("branch-"+id)
				pipe("drain", "trap-"+id, kinds[k]+"-"+id, arm, "2 in", "horizontal")
				pipe("drain", "drop-"+id, arm, branch, "2 in", "vertical")
				pipe("drain", "run-"+id, branch, at, "3 in", "horizontal")
				pipe("vent", "vent-"+id, arm, joint, "1-1/2 in", "vertical")
				at = branch
			}
		}
		roof := fmt.Sprintf("roof-%d", s)
		terminals = append(terminals, object{"id": roof, "kind": "roof_vent"})
		pipe("vent", "out-"+roof, vent, roof, "3 in", "vertical")
	}
	data, err := json.MarshalIndent(object{
		"profile": "ipc-2021", "project": object{"name": fmt.Sprintf("House of %d fixtures", len(fixtures)), "reference": "H-60"}, "building": object{"use": "multifamily"},
		"fixtures": fixtures, "junctions": junctions, "pipes": pipes, "terminals": terminals,
		"connections": []object{{"id": "sewer", "kind": "building_drain", "size": "6 in", "slope": "1/8 in/ft"}},
	}, "", "  ")
	if err != nil {
		panic(err)
	}
	return data
}

// pages writes what the browser is to open: the flawed demo, the batch of it and
// the sketch, a building of 60 fixtures with its figures and without, a hostile
// design and one that cannot be read.
func pages(t *testing.T) (dir string) {
	t.Helper()
	dir = t.TempDir()
	write := func(name string, data string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(data), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	page := func(name string, args ...string) {
		out := letter(t, append([]string{"--format", "html"}, args...)...)
		if name != "unreadable" && !strings.Contains(out, "Riser diagram") {
			t.Fatalf("%s was not judged", name)
		}
		write(name+".html", out)
	}
	page("flawed", "--date", "2026-02-03", flawed)
	page("batch", flawed, sketch)
	page("building", write("building.json", string(building(3, 5, false))))
	page("bare", write("bare.json", string(building(3, 5, true))))
	name := `</title></style><script>alert(1)</script><img src=x onerror=alert(1)> ` + strings.Repeat("w", 300)
	data, err := os.ReadFile(filepath.Join(root, flawed))
	if err != nil {
		t.Fatal(err)
	}
	hostile, err := json.Marshal(name)
	if err != nil {
		t.Fatal(err)
	}
	design := write(`a'"><img src=x onerror=alert(1)>.json`, strings.Replace(string(data), `"Pottery studio under a row house"`, string(hostile), 1))
	page("hostile", "--applicant", "\u202e"+name, "--reviewer", name, design)
	page("unreadable", write("unreadable.json", `{"profile": 1, "<b>": 2}`))
	return dir
}

// check runs the checks of the page over a folder; they are skipped, and say
// so, where there is no browser to run them.
func check(t *testing.T, dir string) []pageCheck {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node: the pages were not opened in a browser (.ci/run does)")
	}
	if _, err := os.Stat(filepath.Join(letterFolder, "node_modules", "playwright-core")); err != nil {
		t.Skip("no node_modules: the pages were not opened in a browser; npm ci --prefix testdata/html")
	}
	var browser string
	for _, name := range []string{"chromium", "chromium-browser"} {
		if path, err := exec.LookPath(name); err == nil {
			browser = path
			break
		}
	}
	if browser == "" {
		t.Skip("no Chromium: the pages were not opened in a browser; apt-get install chromium")
	}
	var out, errs bytes.Buffer
	c := exec.Command(node, filepath.Join(letterFolder, "check.mjs"), browser, dir)
	c.Stdout, c.Stderr = &out, &errs
	if err := c.Run(); err != nil {
		t.Fatalf("%v\n%s", err, errs.String())
	}
	var list []pageCheck
	for line := range strings.Lines(out.String()) {
		var p pageCheck
		if err := json.Unmarshal([]byte(line), &p); err != nil {
			t.Fatalf("%v: %s", err, line)
		}
		list = append(list, p)
	}
	return list
}

type pageCheck struct {
	File, Check string
	OK          bool
	Message     string
}

// TestLettersInBrowser opens the pages in headless Chromium: see check.mjs.
// Accessibility rules are those of axe-core (WCAG 2.2 A and AA, and its own
// best practices).
func TestLettersInBrowser(t *testing.T) {
	list := check(t, pages(t))
	files := map[string]int{}
	for _, p := range list {
		files[p.File]++
		t.Run(p.File+"/"+p.Check, func(t *testing.T) {
			if !p.OK {
				t.Error(p.Message)
			}
		})
	}
	for _, name := range []string{"flawed", "batch", "building", "bare", "hostile", "unreadable"} {
		if files[name+".html"] < 14 {
			t.Errorf("%s: %d checks", name, files[name+".html"])
		}
	}
}

// TestBrowserChecksSeeFaults holds that the checks find what is planted.
func TestBrowserChecksSeeFaults(t *testing.T) {
	dir := t.TempDir()
	page := `<!DOCTYPE html><html lang="en"><head><title>x</title></head><body style="background:#fff"><main>
<h1>x</h1><h3>y</h3><p style="color:#ccc">pale</p><img src="gone.png"><div style="width:2000px">wide</div>
<a href="#nowhere">dead link</a><script>console.log("x")</script>
<article class="letter"><ol><li class="item" id="finding-2"><span class="number">2</span></li></ol><svg id="d"><a href="#finding-2"><text y="9">2</text></a></svg></article></main></body></html>`
	if err := os.WriteFile(filepath.Join(dir, "broken.html"), []byte(page), 0o644); err != nil {
		t.Fatal(err)
	}
	found := map[string]string{}
	for _, p := range check(t, dir) {
		if !p.OK {
			found[p.Check] = p.Message
		}
	}
	for name, word := range map[string]string{
		"opens without a word or a request": "gone.png", "no script": "<script>", "links and marks": "no link back", "headings in order": "h3 after h1",
		"accessible in light": "color-contrast", "accessible in dark at 390": "image-alt", "no sideways scroll at 320": "wide at 320", "fits the paper": "wide at 680",
	} {
		if !strings.Contains(found[name], word) {
			t.Errorf("%q does not see %s: %q", name, word, found[name])
		}
	}
}
