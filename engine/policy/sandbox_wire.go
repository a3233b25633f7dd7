package policy

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// request is one line to the process apart: exactly one member is set, Alone
// apart.
type request struct {
	Open  *opening     `json:"open,omitempty"`
	Judge *facts.Facts `json:"judge,omitempty"`
	Alone bool         `json:"alone,omitempty"` // rule by rule, each told before it is tried
}

// opening is what the process is to judge by.
type opening struct {
	Files   Files         `json:"files"`
	Profile string        `json:"profile"`
	Time    time.Duration `json:"time"`
	Memory  int64         `json:"memory"`
}

// answer is one line from it. At comes before others, any number of times.
type answer struct {
	At       *wireError                          `json:"at,omitempty"` // the rule that is tried next
	Rules    []profile.Rule                      `json:"rules,omitempty"`
	Kinds    map[string]map[string]quantity.Kind `json:"kinds,omitempty"`
	Verdicts []wireVerdict                       `json:"verdicts,omitempty"`
	Errors   []wireError                         `json:"errors,omitempty"`
	Done     bool                                `json:"done,omitempty"`
}

type wireError struct {
	Rule    string `json:"rule,omitempty"`
	File    string `json:"file,omitempty"`
	Line    int    `json:"line,omitempty"`
	Col     int    `json:"col,omitempty"`
	Message string `json:"message,omitempty"`
	Hint    string `json:"hint,omitempty"`
	Stopped bool   `json:"stopped,omitempty"`
}

func toWire(e *Error) wireError {
	return wireError{e.Rule, e.File, e.Line, e.Col, e.Message, e.Hint, errors.Is(e.cause, context.DeadlineExceeded)}
}

func (w wireError) error() *Error {
	e := &Error{Rule: w.Rule, File: w.File, Line: w.Line, Col: w.Col, Message: w.Message, Hint: w.Hint}
	if w.Stopped {
		e.cause = context.DeadlineExceeded
	}
	return e
}

// wireErrors takes an error of this package apart.
func wireErrors(err error) []wireError {
	var list Errors
	if errors.As(err, &list) {
		out := make([]wireError, len(list))
		for i, e := range list {
			out[i] = toWire(e)
		}
		return out
	}
	if e, ok := errors.AsType[*Error](err); ok {
		return []wireError{toWire(e)}
	}
	return []wireError{{Message: err.Error()}}
}

func (a answer) err() error {
	if len(a.Errors) == 0 {
		return nil
	}
	if len(a.Errors) == 1 {
		return a.Errors[0].error()
	}
	list := make(Errors, len(a.Errors))
	for i, w := range a.Errors {
		list[i] = w.error()
	}
	return list
}

// wireVerdict is a verdict with those facts of its subject that texts name.
type wireVerdict struct {
	Rule     string               `json:"rule"`
	Subject  string               `json:"subject"`
	Outcome  finding.Outcome      `json:"outcome"`
	Op       string               `json:"op,omitempty"`
	Measured wireValue            `json:"measured,omitzero"`
	Limit    wireValue            `json:"limit,omitzero"`
	Detail   string               `json:"detail,omitempty"`
	Range    []int64              `json:"range,omitempty"`
	Missing  []string             `json:"missing,omitempty"`
	Figures  []Figure             `json:"figures,omitempty"`
	Facts    map[string]wireValue `json:"facts,omitempty"`
}

// wireValue is what goValue returns: nil, int64, bool, string, []string or
// []int64.
type wireValue struct{ v any }

// MarshalJSON implements json.Marshaler.
func (w wireValue) MarshalJSON() ([]byte, error) { return json.Marshal(w.v) }

// UnmarshalJSON implements json.Unmarshaler.
func (w *wireValue) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var v any
	if err := d.Decode(&v); err != nil {
		return err
	}
	list, isList := v.([]any)
	if !isList {
		var err error
		w.v, err = scalar(v)
		return err
	}
	words, numbers := make([]string, 0, len(list)), make([]int64, 0, len(list))
	for _, item := range list {
		value, err := scalar(item)
		if err != nil {
			return err
		}
		switch value := value.(type) {
		case string:
			words = append(words, value)
		case int64:
			numbers = append(numbers, value)
		}
	}
	switch {
	case len(words) == len(list):
		w.v = words
	case len(numbers) == len(list):
		w.v = numbers
	default:
		return fmt.Errorf("a list of mixed values: %.100s", data)
	}
	return nil
}

func scalar(v any) (any, error) {
	switch v := v.(type) {
	case nil, bool, string:
		return v, nil
	case json.Number:
		return v.Int64()
	}
	return nil, fmt.Errorf("a value of type %T", v)
}

func (v *Verdict) wire(paths []string) wireVerdict {
	w := wireVerdict{v.Rule, v.Subject, v.Outcome, v.Op, wireValue{v.Measured}, wireValue{v.Limit}, v.Detail, v.Range, v.Missing, v.RestsOn(), nil}
	for _, path := range paths {
		if value, ok := v.Fact(path); ok {
			if w.Facts == nil {
				w.Facts = map[string]wireValue{}
			}
			w.Facts[path] = wireValue{value}
		}
	}
	return w
}

func (w wireVerdict) verdict() Verdict {
	v := Verdict{Rule: w.Rule, Subject: w.Subject, Outcome: w.Outcome, Op: w.Op, Measured: w.Measured.v, Limit: w.Limit.v,
		Detail: w.Detail, Range: w.Range, Missing: w.Missing, Figures: w.Figures, shown: map[string]any{}}
	for path, value := range w.Facts {
		v.shown[path] = value.v
	}
	return v
}

// named are the facts that texts of a rule show.
func named(r profile.Rule) []string {
	paths := append([]string{}, r.Needs...)
	for _, text := range []string{r.Message, r.Remedy} {
		for _, m := range placeholder.FindAllStringSubmatch(text, -1) {
			if name, isFact := strings.CutPrefix(m[1], "fact:"); isFact {
				paths = append(paths, name)
			}
		}
	}
	return paths
}
