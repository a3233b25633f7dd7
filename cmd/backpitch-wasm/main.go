//go:build js && wasm

// Command backpitch-wasm is the engine for the page of backpitch bench, as
// WebAssembly in a worker of a browser.
//
// It sets one object, backpitch, whose functions take and return JSON texts.
// Nothing is decided here, and nothing is read but what the page hands over.
package main

import (
	"encoding/json"
	"fmt"
	"runtime/debug"
	"syscall/js"

	"backpitch/engine/bench"
	"backpitch/policies"
)

func main() {
	debug.SetGCPercent(400) // one thread collects and computes: less often is faster
	debug.SetMemoryLimit(1 << 30)
	b := bench.New(policies.FS())
	js.Global().Set("backpitch", map[string]any{
		"profiles": function(func(struct{}) (any, error) { return b.Profiles() }),
		"newRule":  function(func(struct{}) (any, error) { return bench.NewRule(), nil }),
		"rules":    function(func(q bench.Request) (any, error) { return b.RuleIDs(q.Profile) }),
		"ruleText": function(func(q bench.Request) (any, error) { return b.RuleText(q.Profile, q.Rule) }),
		"open":     function(func(q bench.Request) (any, error) { return b.Open(q), nil }),
		"review":   function(func(q bench.Request) (any, error) { return b.Review(q), nil }),
	})
	js.Global().Call("backpitchReady")
	select {}
}

// function makes f callable from the worker: a JSON text in, {"value":…} or
// {"error":"…"} out.
func function[In any](f func(In) (any, error)) js.Func {
	return js.FuncOf(func(_ js.Value, args []js.Value) (out any) {
		defer func() {
			if r := recover(); r != nil {
				out = answer(nil, fmt.Errorf("the engine broke: %v", r))
			}
		}()
		var in In
		if err := json.Unmarshal([]byte(args[0].String()), &in); err != nil {
			return answer(nil, err)
		}
		return answer(f(in))
	})
}

func answer(value any, err error) string {
	var out struct {
		Value any    `json:"value,omitempty"`
		Error string `json:"error,omitempty"`
	}
	if out.Value = value; err != nil {
		out.Value, out.Error = nil, err.Error()
	}
	text, err := json.Marshal(out)
	if err != nil {
		return fmt.Sprintf(`{"error":%q}`, err.Error())
	}
	return string(text)
}
