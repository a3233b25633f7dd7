package exercise

import (
	"encoding/json"
	"slices"
	"strconv"
	"strings"

	"backpitch/engine/plant"
	"backpitch/engine/quantity"
)

// A recipe is a way to break one rule in any design: it picks the elements it
// can be used on and says how each is changed. Whether the change breaks that
// rule and no other is never assumed: a review decides.
type recipe struct {
	rule string
	why  string // what was done, in the words of the key
	also string // rules and topics that may fail or be open with it, with blanks between
	in   string // list of the elements: pipes, pipes/devices
	when func(e part) bool
	edit func(e part) []plant.Operation
}

// part is an element of a design, or a part of one.
type part struct {
	list   string // pipes, pipes/devices
	id     string // of the element it is or is part of
	path   string // with @ids
	values map[string]any
	around *part // the element a part belongs to
	beside []part
}

// parts lists the elements of a design by list, in the order of the file, with
// the devices and joints of pipes in lists of their own.
func parts(design map[string]any) map[string][]part {
	all := map[string][]part{}
	if b, ok := design["building"].(map[string]any); ok {
		all["building"] = []part{{list: "building", id: "building", path: "/building", values: b}}
	}
	for list, value := range design {
		for _, e := range elementsOf(value, list, "/"+list, nil) {
			all[list] = append(all[list], e)
			for _, inner := range []string{"devices", "joints", "curve"} {
				within := elementsOf(e.values[inner], list+"/"+inner, e.path+"/"+inner, &e)
				for i := range within {
					within[i].beside = within
				}
				all[list+"/"+inner] = append(all[list+"/"+inner], within...)
			}
		}
	}
	return all
}

func elementsOf(value any, list, path string, around *part) []part {
	var out []part
	elements, _ := value.([]any)
	for i, v := range elements {
		m, ok := v.(map[string]any)
		if !ok {
			continue
		}
		e := part{list: list, values: m, around: around}
		if id, ok := m["id"].(string); ok && !strings.Contains(id, "/") {
			e.id, e.path = id, path+"/@"+id
		} else if around != nil {
			e.id, e.path = around.id, path+"/"+strconv.Itoa(i)
		} else {
			continue
		}
		out = append(out, e)
	}
	return out
}

// value returns what stands at a key, or at a key within a key: "trap/seal".
func (e part) value(key string) any {
	head, rest, deeper := strings.Cut(key, "/")
	v := e.values[head]
	if !deeper {
		return v
	}
	inner, _ := v.(map[string]any)
	return part{values: inner}.value(rest)
}

func (e part) text(key string) string {
	s, _ := e.value(key).(string)
	return s
}

// is: the value of a key is one of the words.
func (e part) is(key string, words ...string) bool {
	return slices.Contains(words, e.text(key))
}

// fixed reads a quantity; false where it is not stated.
func (e part) fixed(key string, kind quantity.Kind) (int64, bool) {
	v, err := quantity.Parse(kind, e.text(key))
	return v.Fixed(), err == nil
}

// set replaces a value that is stated; a value that is not is left alone,
// since a key that only one element has is seen at once.
func (e part) set(key string, value any) []plant.Operation {
	old := e.value(key)
	if old == nil || old == value {
		return nil
	}
	text, err := json.Marshal(value)
	if err != nil {
		return nil
	}
	return []plant.Operation{{Op: "replace", Path: e.path + "/" + key, Value: text}}
}

func (e part) drop(key string) []plant.Operation {
	if e.value(key) == nil {
		return nil
	}
	return []plant.Operation{{Op: "remove", Path: e.path + "/" + key}}
}

func (e part) remove() []plant.Operation {
	return []plant.Operation{{Op: "remove", Path: e.path}}
}

// change replaces a quantity by another, written in units of the same system.
func (e part) change(key string, kind quantity.Kind, to func(int64) int64) []plant.Operation {
	old, ok := e.fixed(key, kind)
	if !ok {
		return nil
	}
	text := written(kind, to(old), e.text(key))
	if v, err := quantity.Parse(kind, text); err != nil || v.Fixed() == old {
		return nil
	}
	return e.set(key, text)
}

// written formats a quantity in the unit system that a text is in.
func written(kind quantity.Kind, n int64, like string) string {
	system := quantity.SI
	for _, unit := range []string{"in", "ft", "gal", "gpm", "lb", "psi", "dfu", "\"", "'"} {
		if strings.Contains(like, unit) {
			system = quantity.US
		}
	}
	return quantity.Format(kind, n, system)
}

// times scales by a fraction.
func times(num, den int64) func(int64) int64 {
	return func(n int64) int64 { return n * num / den }
}

// inches is a length whatever it was before.
func inches(n int64) func(int64) int64 {
	return func(int64) int64 { return n * 25_400 }
}

// smaller is the next listed size below, written as the old one is.
func (e part) smaller(key string, steps int) []plant.Operation {
	old, ok := e.fixed(key, quantity.Size)
	if !ok {
		return nil
	}
	inch := strings.Contains(e.text(key), "in")
	var below []string
	for _, s := range quantity.Sizes() {
		switch {
		case s.DN >= old:
		case inch && s.Inch != "":
			below = append(below, s.Inch+" in")
		case !inch:
			below = append(below, "DN "+strconv.FormatInt(s.DN, 10))
		}
	}
	if len(below) < steps {
		return nil
	}
	return e.set(key, below[len(below)-steps])
}

// swap lets two parts of one list change places and keeps the distances, at,
// in order.
func swap(a, b part) []plant.Operation {
	ops := []plant.Operation{{Op: "move", From: b.path, Path: a.path}}
	if atA, atB := a.text("at"), b.text("at"); atA != "" && atB != "" && atA != atB {
		textA, _ := json.Marshal(atA)
		textB, _ := json.Marshal(atB)
		ops = append(ops,
			plant.Operation{Op: "replace", Path: b.path + "/at", Value: textA},
			plant.Operation{Op: "replace", Path: a.path + "/at", Value: textB})
	}
	return ops
}
