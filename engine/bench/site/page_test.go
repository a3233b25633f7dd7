package site

import (
	"strings"
	"testing"
	"time"
)

func TestPage(t *testing.T) {
	c := startChromium(t)
	url := serve(t)
	page := c.open(url, desktop, false)
	page.until("the first sample is judged", judged, patience)
	for _, tt := range []struct {
		name string
		try  func(*testing.T, *tab)
	}{
		{"a finding leads to its line, a mark to its finding", findingsLead},
		{"a slope is mended, and its finding goes", slopeMended},
		{"a document that breaks off is a problem with a line", brokenDocument},
		{"a rule of the class judges, breaks, and is mended", classRule},
		{"a rule without end is stopped", endlessRule},
		{"another profile judges, and says how far its figures are checked", otherProfile},
		{"a design is saved as written, opened, and kept over a reload", savedAndOpened},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c.t = t
			tt.try(t, page)
		})
	}
	c.t = t
	page.clean(url)
	nothingSent(t, page)
}

func findingsLead(t *testing.T, tab *tab) {
	// wet-2 falls 1/8 in/ft: the planted fault that README prints.
	var at struct {
		Line  int
		Value string
	}
	tab.eval(`(() => {
		const item = [...document.querySelectorAll(".item")].find((i) => i.innerText.includes("drain/too_flat") && i.innerText.includes("wet-2"));
		item.querySelector("button.place").click();
		const e = document.getElementById("design-text");
		if (document.activeElement !== e) throw new Error("the editor has no focus");
		return { line: e.value.slice(0, e.selectionStart).split("\n").length, value: e.value.slice(e.selectionStart, e.selectionEnd) };
	})()`, &at)
	if at.Line != 48 || !strings.Contains(at.Value, `"wet-2"`) {
		t.Errorf("the finding leads to line %d: %q", at.Line, at.Value)
	}
	var lit string
	tab.eval(`(() => { const a = document.querySelector('#riser a[href^="#finding-"]'); a.dispatchEvent(new MouseEvent("click", { bubbles: true, cancelable: true }));
		return document.activeElement.id + " " + document.querySelector(".item.lit").id + " " + a.getAttribute("href").slice(1); })()`, &lit)
	if f := strings.Fields(lit); len(f) != 3 || f[0] != f[1] || f[1] != f[2] {
		t.Errorf("a mark leads to %q", lit)
	}
}

func slopeMended(t *testing.T, tab *tab) {
	const flat = `[...document.querySelectorAll(".item")].some((i) => i.innerText.includes("drain/too_flat") && i.innerText.includes("wet-2"))`
	tab.until("the flat drain is found", flat, time.Second)
	var line string
	tab.eval(`document.getElementById("design-text").value.split("\n")[47]`, &line)
	mended := strings.Replace(line, `"slope": "1/8 in/ft"`, `"slope": "1/4 in/ft"`, 1)
	if mended == line {
		t.Fatalf("line 48 is %q", line)
	}
	tab.replace("design-text", line, mended)
	tab.until("the finding goes", judged+" && !("+flat+")", patience)
	tab.replace("design-text", mended, line)
	tab.until("the finding comes back", judged+" && "+flat, patience)
}

func brokenDocument(t *testing.T, tab *tab) {
	tab.replace("design-text", `"profile": "ipc-2021",`, `"profile": "ipc-2021"`)
	tab.until("the problem", `document.querySelector("#trouble button")?.textContent === "Line 3" || document.querySelector("#trouble button")?.textContent === "Line 4"`, patience)
	tab.replace("design-text", `"profile": "ipc-2021"`, `"profile": "ipc-2021",`)
	tab.until("it is judged again", judged+` && !document.querySelector("#trouble .trouble")`, patience)
}

func classRule(t *testing.T, tab *tab) {
	tab.eval(`document.getElementById("tab-rule").click()`, nil)
	tab.choose("start", "new")
	const found = `[...document.querySelectorAll(".item")].some((i) => i.innerText.includes("class/too_long"))`
	tab.until("the new rule finds something", judged+" && "+found, patience)
	tab.replace("rule-text", "p.length, most", "p.lenght, most")
	tab.until("the fault is named", `document.querySelector("#faults .trouble")`, patience)
	var fault string
	tab.eval(`document.querySelector("#faults li").innerText`, &fault)
	for _, part := range []string{"Rule, line 31", `there is no "lenght"`, `did you mean "length"`} {
		if !strings.Contains(strings.ToLower(fault), strings.ToLower(part)) {
			t.Errorf("the fault is %q, without %q", fault, part)
		}
	}
	tab.shot("fault-desktop-light")
	var selected string
	tab.eval(`(() => { document.querySelector("#faults button").click(); const e = document.getElementById("rule-text"); return e.value.slice(0, e.selectionStart).split("\n").length + " " + (document.activeElement === e); })()`, &selected)
	if selected != "31 true" {
		t.Errorf("the fault leads to %q", selected)
	}
	tab.replace("rule-text", "p.lenght, most", "p.length, most")
	tab.until("it judges again", judged+" && "+found+` && !document.querySelector("#faults .trouble")`, patience)
}

func endlessRule(t *testing.T, tab *tab) {
	tab.eval(`bench.limits.judge = 4000`, nil)
	tab.replace("rule-text", "\nverdict[id]", "\nslow(n) if {\n\tsome a in input.drains\n\tsome b in input.drains\n\tsome c in input.drains\n\tsome d in input.drains\n\tsome e in input.drains\n\tsome f in input.drains\n\tconcat(\"\", [a.id, b.id, c.id, d.id, e.id, f.id]) == n\n}\n\nverdict[id]")
	tab.replace("rule-text", "some id, p in subject", "{\n\tsome id, p in subject\n\tslow(\"never\")\n}")
	tab.until("it is stopped", `document.getElementById("trouble").innerText.includes("Stopped after 4 s") && document.getElementById("state").textContent === "Stopped"`, patience)
	tab.eval(`bench.limits.judge = 60000`, nil)
	tab.eval(`window.confirm = () => true`, nil)
	tab.choose("start", "")
	tab.until("the page judges again", judged, patience)
	tab.eval(`document.getElementById("tab-design").click()`, nil)
}

func otherProfile(t *testing.T, tab *tab) {
	tab.choose("profiles", "chicago")
	tab.until("chicago judges", judged+` && document.getElementById("basis").textContent.includes("Figures of profile chicago: ")`, patience)
	tab.choose("profiles", "")
	tab.until("the design's own again", judged+` && document.getElementById("basis").textContent.includes("Figures of profile ipc-2021: ")`, patience)
}

func savedAndOpened(t *testing.T, tab *tab) {
	var saved struct{ Name, Text, Want string }
	tab.eval(`(async () => {
		let blob, name;
		const make = URL.createObjectURL, click = HTMLAnchorElement.prototype.click;
		URL.createObjectURL = (b) => ((blob = b), make.call(URL, b));
		HTMLAnchorElement.prototype.click = function () { name = this.download; };
		[...document.querySelectorAll("#design button")].find((b) => b.textContent === "Save").click();
		Object.assign(URL, { createObjectURL: make });
		HTMLAnchorElement.prototype.click = click;
		return { name, text: await blob.text(), want: document.getElementById("design-text").value };
	})()`, &saved)
	if saved.Name != "pottery-studio-flawed.json" || saved.Text != saved.Want || len(saved.Text) < 10000 {
		t.Errorf("saved %d characters as %q", len(saved.Text), saved.Name)
	}
	tab.eval(`(() => {
		const input = document.querySelector("#design input[type=file]"), data = new DataTransfer();
		data.items.add(new File([bench.samples[1].text], "from-disk.json"));
		input.files = data.files;
		input.dispatchEvent(new Event("change"));
	})()`, nil)
	const sound = judged + ` && document.getElementById("state").textContent.includes(": 0 to mend") && document.querySelector("#design .file").textContent === "from-disk.json"`
	tab.until("the opened file is judged", sound, patience)
	tab.do("Page.reload", nil)
	tab.until("it is there after a reload", sound, patience)
}

// nothingSent holds that nothing can be sent elsewhere, and that the tests would
// see it.
func nothingSent(t *testing.T, tab *tab) {
	var sent string
	tab.eval(`fetch("http://127.0.0.1:9/").then(() => "sent", () => "refused")`, &sent)
	tab.until("the console is heard", `true`, time.Second)
	tab.lock.Lock()
	heard := strings.Join(tab.errors, "\n")
	tab.lock.Unlock()
	if sent != "refused" || !strings.Contains(heard, "Content Security Policy") {
		t.Errorf("the request was %s; heard %q", sent, heard)
	}
}
