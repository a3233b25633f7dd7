package plant

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/tailscale/hujson"
)

// Apply returns the design with the fault planted. The design given is not
// changed; text that the patch does not touch is kept byte for byte.
func (f Fault) Apply(design []byte) ([]byte, error) {
	notJSON := func(what string, err error) error {
		return &Error{Fault: f.Name, Message: what + " is not JSON: " + err.Error()}
	}
	before, err := decode(design) // also bounds how deep it is nested
	if err != nil {
		return nil, notJSON("the design", err)
	}
	doc, err := hujson.Parse(slices.Clone(design))
	if err != nil {
		return nil, notJSON("the design", err)
	}
	for i, op := range f.Patch {
		if err := f.step(&doc, i, op); err != nil {
			return nil, err
		}
	}
	planted := doc.Pack()
	after, err := decode(planted)
	if err != nil {
		return nil, notJSON("the patched design", err)
	}
	if reflect.DeepEqual(before, after) {
		return nil, &Error{Fault: f.Name, Message: "the patch changes nothing", Hint: "the design already has the values it plants"}
	}
	return planted, nil
}

// step applies one operation; ids are looked up in the document as the steps
// before have left it.
func (f *Fault) step(doc *hujson.Value, i int, op Operation) error {
	fault := func(message, hint string) error {
		return &Error{Fault: f.Name, Message: fmt.Sprintf("patch %d, %s %s: %s", i+1, op.Op, op.Path, message), Hint: hint}
	}
	written := op
	for _, pointer := range []*string{&written.Path, &written.From} {
		at, hint, err := indexed(doc, *pointer)
		if err != nil {
			return fault(err.Error(), hint)
		}
		*pointer = at
	}
	patch, err := json.Marshal([]Operation{written})
	if err != nil {
		return fault(err.Error(), "")
	}
	if err := doc.Patch(patch); err != nil {
		return fault(strings.TrimPrefix(strings.TrimPrefix(err.Error(), "hujson: "), "patch operation 0: "), "")
	}
	return nil
}

// indexed replaces every @id in a pointer by the index of that element. A part
// that begins with @ where no list stands is left as it is.
func indexed(doc *hujson.Value, pointer string) (expanded, hint string, err error) {
	for part := range strings.SplitSeq(strings.TrimPrefix(pointer, "/"), "/") {
		if id, named := strings.CutPrefix(part, "@"); named {
			if list, ok := listAt(doc, expanded); ok {
				id = unescape.Replace(id)
				i, ids := position(list, id)
				if i < 0 {
					return "", didYouMean(id, ids), fmt.Errorf("no element of %s has the id %q", expanded, id)
				}
				part = strconv.Itoa(i)
			}
		}
		expanded += "/" + part
	}
	if pointer == "" {
		return "", "", nil
	}
	return expanded, "", nil
}

// unescape undoes what RFC 6901 writes for a slash and a tilde.
var unescape = strings.NewReplacer("~1", "/", "~0", "~")

func listAt(doc *hujson.Value, pointer string) (*hujson.Array, bool) {
	v := doc.Find(pointer)
	if v == nil {
		return nil, false
	}
	list, ok := v.Value.(*hujson.Array)
	return list, ok
}

// position is the place of the element with that id, or -1 and all ids.
func position(list *hujson.Array, id string) (int, []string) {
	var ids []string
	for i := range list.Elements {
		v := list.Elements[i].Find("/id")
		if v == nil {
			continue
		}
		literal, ok := v.Value.(hujson.Literal)
		if !ok {
			continue
		}
		if literal.String() == id {
			return i, nil
		}
		ids = append(ids, literal.String())
	}
	return -1, ids
}

// didYouMean offers the ids that are fewest slips of the pen away, at most
// three; "" where all are far off.
func didYouMean(id string, ids []string) string {
	const most = 3
	best := max(1, (len(id)+1)/3) + 1
	var near []string
	for _, other := range ids {
		switch d := levenshtein.ComputeDistance(id, other); {
		case d < best:
			best, near = d, []string{strconv.Quote(other)}
		case d == best && len(near) > 0 && len(near) < most:
			near = append(near, strconv.Quote(other))
		}
	}
	if len(near) == 0 {
		return ""
	}
	return "did you mean " + strings.Join(near, " or ") + "?"
}

// decode reads one JSON value, numbers as written.
func decode(text []byte) (any, error) {
	var value any
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	if err := d.Decode(&value); err != nil {
		return nil, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, errors.New("text after the value")
	}
	return value, nil
}
