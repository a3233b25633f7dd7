package site

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// chromium is a headless browser, driven by the DevTools protocol over a pipe.
type chromium struct {
	t    *testing.T
	in   io.Writer
	lock sync.Mutex
	next int
	wait map[int]chan reply
	tabs map[string]*tab // by session, those of workers too
}

type reply struct {
	Result json.RawMessage `json:"result"`
	Error  *struct {
		Message string `json:"message"`
	} `json:"error"`
}

// tab is one page with what happened in it.
type tab struct {
	c        *chromium
	session  string
	lock     sync.Mutex
	errors   []string // of the console, of scripts and of the network
	requests []string
}

func findChromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{os.Getenv("CHROMIUM"), "chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	t.Skip("no Chromium: the pages were not opened in a browser; apt-get install chromium, or set CHROMIUM")
	return ""
}

func startChromium(t *testing.T) *chromium {
	t.Helper()
	path := findChromium(t)
	toRead, toWrite, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	fromRead, fromWrite, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	// No sandbox: tests run as root in a container. Nothing foreign is opened.
	cmd := exec.Command(path, "--headless=new", "--remote-debugging-pipe", "--no-sandbox", "--disable-gpu", "--no-first-run",
		"--disable-dev-shm-usage", "--disable-background-networking", "--user-data-dir="+filepath.Join(dir, "profile"))
	cmd.ExtraFiles = []*os.File{toRead, fromWrite}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	toRead.Close()
	fromWrite.Close()
	c := &chromium{t: t, in: toWrite, wait: map[int]chan reply{}, tabs: map[string]*tab{}}
	gone := make(chan struct{})
	go func() { c.listen(fromRead); close(gone) }()
	t.Cleanup(func() {
		c.try("", "Browser.close", nil) //nolint:errcheck // it may be gone already
		select {
		case <-gone:
		case <-time.After(20 * time.Second):
			cmd.Process.Kill() //nolint:errcheck
		}
		cmd.Wait() //nolint:errcheck
		toWrite.Close()
		for range 50 { // helpers of the browser leave its folder a little later
			if os.RemoveAll(dir) == nil {
				break
			}
			time.Sleep(100 * time.Millisecond)
		}
	})
	return c
}

func (c *chromium) listen(from io.Reader) {
	r := bufio.NewReader(from)
	for {
		data, err := r.ReadBytes(0)
		if err != nil {
			c.lock.Lock()
			for id, ch := range c.wait {
				delete(c.wait, id)
				close(ch)
			}
			c.lock.Unlock()
			return
		}
		var m struct {
			reply
			ID      int             `json:"id"`
			Method  string          `json:"method"`
			Params  json.RawMessage `json:"params"`
			Session string          `json:"sessionId"`
		}
		if json.Unmarshal(data[:len(data)-1], &m) != nil {
			continue
		}
		c.lock.Lock()
		ch, t := c.wait[m.ID], c.tabs[m.Session]
		delete(c.wait, m.ID)
		c.lock.Unlock()
		switch {
		case m.ID != 0 && ch != nil:
			ch <- m.reply
		case t != nil:
			t.happened(m.Method, m.Params)
		}
	}
}

func (c *chromium) try(session, method string, params any) (json.RawMessage, error) {
	if params == nil {
		params = map[string]any{}
	}
	ch := make(chan reply, 1)
	c.lock.Lock()
	c.next++
	message := map[string]any{"id": c.next, "method": method, "params": params}
	if session != "" {
		message["sessionId"] = session
	}
	c.wait[c.next] = ch
	data, err := json.Marshal(message)
	if err == nil {
		_, err = c.in.Write(append(data, 0))
	}
	c.lock.Unlock()
	if err != nil {
		return nil, err
	}
	select {
	case r, ok := <-ch:
		switch {
		case !ok:
			return nil, errors.New("the browser is gone")
		case r.Error != nil:
			return nil, errors.New(r.Error.Message)
		}
		return r.Result, nil
	case <-time.After(3 * time.Minute):
		return nil, errors.New("the browser does not answer")
	}
}

func (c *chromium) call(session, method string, params any) json.RawMessage {
	c.t.Helper()
	r, err := c.try(session, method, params)
	if err != nil {
		c.t.Fatalf("%s: %v", method, err)
	}
	return r
}

type size struct{ width, height int }

var (
	phone   = size{320, 720}
	desktop = size{1280, 900}
)

// open opens an address in a tab of its own.
func (c *chromium) open(url string, s size, dark bool) *tab {
	c.t.Helper()
	var target struct{ TargetID string }
	unmarshal(c.t, c.call("", "Target.createTarget", map[string]any{"url": "about:blank"}), &target)
	var attached struct{ SessionID string }
	unmarshal(c.t, c.call("", "Target.attachToTarget", map[string]any{"targetId": target.TargetID, "flatten": true}), &attached)
	c.call("", "Browser.grantPermissions", map[string]any{"permissions": []string{"clipboardReadWrite", "clipboardSanitizedWrite"}})
	c.call("", "Target.activateTarget", map[string]any{"targetId": target.TargetID})
	t := &tab{c: c, session: attached.SessionID}
	c.lock.Lock()
	c.tabs[t.session] = t
	c.lock.Unlock()
	t.watch(t.session)
	scheme := map[bool]string{true: "dark", false: "light"}[dark]
	t.do("Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}, {"name": "prefers-reduced-motion", "value": "reduce"}}})
	t.resize(s)
	t.do("Page.enable", nil)
	t.do("Page.navigate", map[string]any{"url": url})
	t.until("the page stands", `document.readyState === "complete" && typeof bench === "object" && !!bench.engine`, time.Minute)
	return t
}

func (t *tab) resize(s size) {
	t.c.t.Helper()
	t.do("Emulation.setDeviceMetricsOverride", map[string]any{"width": s.width, "height": s.height, "deviceScaleFactor": 1, "mobile": s.width < 600})
}

// watch records what happens in a session, and in the workers below it.
func (t *tab) watch(session string) {
	for _, m := range []string{"Runtime.enable", "Log.enable", "Network.enable"} {
		t.c.try(session, m, nil) //nolint:errcheck // a worker may have ended
	}
	t.c.try(session, "Target.setAutoAttach", map[string]any{"autoAttach": true, "waitForDebuggerOnStart": false, "flatten": true}) //nolint:errcheck
}

func (t *tab) happened(method string, params json.RawMessage) {
	var p struct {
		Type    string
		Args    []struct{ Description, Value any }
		Entry   struct{ Level, Text, URL string }
		Request struct{ URL string }

		ExceptionDetails struct {
			Text      string
			Exception struct{ Description string }
		}
		SessionID string
	}
	if json.Unmarshal(params, &p) != nil && method != "Target.attachedToTarget" {
		return
	}
	t.lock.Lock()
	defer t.lock.Unlock()
	switch method {
	case "Runtime.consoleAPICalled":
		if p.Type == "error" || p.Type == "warning" || p.Type == "assert" {
			t.errors = append(t.errors, fmt.Sprintf("console: %v", p.Args))
		}
	case "Runtime.exceptionThrown":
		t.errors = append(t.errors, p.ExceptionDetails.Text+" "+p.ExceptionDetails.Exception.Description)
	case "Log.entryAdded":
		if p.Entry.Level == "error" || p.Entry.Level == "warning" {
			t.errors = append(t.errors, p.Entry.Text+" "+p.Entry.URL)
		}
	case "Network.requestWillBeSent":
		t.requests = append(t.requests, p.Request.URL)
	case "Target.attachedToTarget":
		t.c.lock.Lock()
		t.c.tabs[p.SessionID] = t
		t.c.lock.Unlock()
		go t.watch(p.SessionID)
	}
}

func (t *tab) do(method string, params any) json.RawMessage {
	t.c.t.Helper()
	return t.c.call(t.session, method, params)
}

// eval evaluates an expression, awaiting it, and reads its value into out.
func (t *tab) eval(expression string, out any) {
	t.c.t.Helper()
	if err := t.tryEval(expression, out); err != nil {
		t.c.t.Fatalf("%.200s: %v", expression, err)
	}
}

func (t *tab) tryEval(expression string, out any) error {
	r, err := t.c.try(t.session, "Runtime.evaluate", map[string]any{"expression": expression, "awaitPromise": true, "returnByValue": true, "userGesture": true})
	if err != nil {
		return err
	}
	var v struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	if err := json.Unmarshal(r, &v); err != nil {
		return err
	}
	if v.ExceptionDetails != nil {
		return errors.New(v.ExceptionDetails.Text + " " + v.ExceptionDetails.Exception.Description)
	}
	if out == nil || len(v.Result.Value) == 0 {
		return nil
	}
	return json.Unmarshal(v.Result.Value, out)
}

// until waits for an expression to become true.
func (t *tab) until(what, expression string, limit time.Duration) {
	t.c.t.Helper()
	var last error
	for end := time.Now().Add(limit); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		var yes bool
		if last = t.tryEval("!!("+expression+")", &yes); last == nil && yes {
			return
		}
	}
	var text string
	t.tryEval("document.body.innerText.slice(0, 1500)", &text) //nolint:errcheck // it fails already
	t.c.t.Fatalf("not within %s: %s (%v)\nerrors: %q\n%s", limit, what, last, t.errors, text)
}

// key presses a key as a person would.
func (t *tab) key(key string, modifiers int, commands ...string) {
	t.c.t.Helper()
	codes := map[string]int{"Tab": 9, "Enter": 13, "ArrowRight": 39, "ArrowLeft": 37, "v": 86}
	p := map[string]any{"type": "keyDown", "key": key, "code": key, "windowsVirtualKeyCode": codes[key], "modifiers": modifiers}
	if len(commands) > 0 {
		p["commands"] = commands
	}
	if key == "Enter" {
		p["text"] = "\r"
	}
	t.do("Input.dispatchKeyEvent", p)
	t.do("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": key, "code": key, "windowsVirtualKeyCode": codes[key], "modifiers": modifiers})
}

// shot writes a picture of the page into the folder that SHOTS names.
func (t *tab) shot(name string) {
	t.c.t.Helper()
	dir := os.Getenv("SHOTS")
	if dir == "" {
		return
	}
	var r struct{ Data string }
	unmarshal(t.c.t, t.do("Page.captureScreenshot", map[string]any{"format": "png"}), &r)
	data, err := base64.StdEncoding.DecodeString(r.Data)
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, name+".png"), data, 0o644)
	}
	if err != nil {
		t.c.t.Fatal(err)
	}
}

// clean fails where a script or the console complained, or where anything was
// asked of another place than the page's own.
func (t *tab) clean(origin string) {
	t.c.t.Helper()
	t.lock.Lock()
	defer t.lock.Unlock()
	if len(t.errors) > 0 {
		t.c.t.Errorf("the page complains: %q", t.errors)
	}
	if len(t.requests) == 0 {
		t.c.t.Error("no request was seen, so none was checked")
	}
	for _, r := range t.requests {
		if !strings.HasPrefix(r, origin) && !strings.HasPrefix(r, "data:,") && !strings.HasPrefix(r, "blob:") {
			t.c.t.Errorf("a request to %s", r)
		}
	}
}

func unmarshal(t *testing.T, data []byte, out any) {
	t.Helper()
	if err := json.Unmarshal(data, out); err != nil {
		t.Fatal(err)
	}
}
