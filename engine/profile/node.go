package profile

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// document is one profile.json as it stands on disk.
type document struct {
	id   string // profile id
	file string
	data []byte
}

// place returns the line and column of a byte offset, both from 1.
func (d *document) place(off int) (line, col int) {
	if off > len(d.data) {
		off = len(d.data)
	}
	before := d.data[:off]
	return bytes.Count(before, []byte{'\n'}) + 1, off - (bytes.LastIndexByte(before, '\n') + 1) + 1
}

type nodeKind byte

const (
	null nodeKind = iota
	boolean
	number
	text
	array
	object
)

// node is a JSON value that keeps the order of its members, and the document
// and offset it was written at: an amended table has nodes of two documents.
type node struct {
	kind    nodeKind
	text    string // of a string, or the literal of a number
	flag    bool
	items   []*node
	members []member
	doc     *document
	off     int
}

type member struct {
	name string
	node *node
}

// get returns a member of an object, nil where there is none.
func (n *node) get(name string) *node {
	if n == nil || n.kind != object {
		return nil
	}
	for i := range n.members {
		if n.members[i].name == name {
			return n.members[i].node
		}
	}
	return nil
}

// str returns a string member, "" where there is none.
func (n *node) str(name string) string {
	if m := n.get(name); m != nil && m.kind == text {
		return m.text
	}
	return ""
}

// with returns a copy of an object with one member set, in its old place or at
// the end.
func (n *node) with(name string, value *node) *node {
	out := *n
	out.members = make([]member, 0, len(n.members)+1)
	found := false
	for _, m := range n.members {
		if m.name == name {
			m.node, found = value, true
		}
		out.members = append(out.members, m)
	}
	if !found {
		out.members = append(out.members, member{name, value})
	}
	return &out
}

// without returns a copy of an object that lacks the members named.
func (n *node) without(names ...string) *node {
	out := *n
	out.members = nil
next:
	for _, m := range n.members {
		for _, name := range names {
			if m.name == name {
				continue next
			}
		}
		out.members = append(out.members, m)
	}
	return &out
}

// same reports whether two values are equal; the order of members apart.
func same(a, b *node) bool {
	if a == nil || b == nil {
		return a == b
	}
	if a.kind != b.kind || a.text != b.text || a.flag != b.flag ||
		len(a.items) != len(b.items) || len(a.members) != len(b.members) {
		return false
	}
	for i := range a.items {
		if !same(a.items[i], b.items[i]) {
			return false
		}
	}
	for _, m := range a.members {
		if other := b.get(m.name); other == nil || !same(m.node, other) {
			return false
		}
	}
	return true
}

const (
	maxDepth = 16      // a profile is 5 deep
	maxBytes = 4 << 20 // the largest code's tables take some 100 kB
)

// parse reads one document; two members of one name are refused.
func (d *document) parse() (*node, error) {
	if len(d.data) > maxBytes {
		return nil, &Error{File: d.file, Message: fmt.Sprintf("the profile has %d bytes, more than %d", len(d.data), maxBytes)}
	}
	dec := json.NewDecoder(bytes.NewReader(d.data))
	dec.UseNumber()
	p := parser{doc: d, dec: dec}
	root, err := p.value(0)
	if err == nil {
		end := p.start()
		if _, err = dec.Token(); err == nil {
			return nil, d.errorAt(end, "", "there is more text after the profile")
		}
		if errors.Is(err, io.EOF) {
			return root, nil
		}
	}
	return nil, p.explain(err)
}

type parser struct {
	doc *document
	dec *json.Decoder
}

// start is the offset of the next token.
func (p *parser) start() int {
	off := int(p.dec.InputOffset())
	for off < len(p.doc.data) && strings.IndexByte(" \t\r\n,:", p.doc.data[off]) >= 0 {
		off++
	}
	return off
}

// explain gives an error of the JSON decoder its place.
func (p *parser) explain(err error) error {
	if own, ok := errors.AsType[*Error](err); ok {
		return own
	}
	message := "the file ends in the middle of a value"
	if !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		message = "not JSON: " + strings.TrimPrefix(err.Error(), "json: ")
	}
	return p.doc.errorAt(p.start(), "", "%s", message)
}

func (p *parser) value(depth int) (*node, error) {
	off := p.start()
	if depth > maxDepth {
		return nil, p.doc.errorAt(off, "", "values are nested more than %d deep", maxDepth)
	}
	tok, err := p.dec.Token()
	if err != nil {
		return nil, err
	}
	n := &node{doc: p.doc, off: off}
	switch tok := tok.(type) {
	case nil:
		n.kind = null
	case bool:
		n.kind, n.flag = boolean, tok
	case json.Number:
		n.kind, n.text = number, tok.String()
	case string:
		n.kind, n.text = text, tok
	case json.Delim:
		if tok == '[' {
			n.kind = array
			err = p.elements(n, depth)
		} else {
			n.kind = object
			err = p.fields(n, depth)
		}
	}
	return n, err
}

func (p *parser) elements(n *node, depth int) error {
	for p.dec.More() {
		item, err := p.value(depth + 1)
		if err != nil {
			return err
		}
		n.items = append(n.items, item)
	}
	_, err := p.dec.Token()
	return err
}

func (p *parser) fields(n *node, depth int) error {
	seen := map[string]bool{}
	for p.dec.More() {
		off := p.start()
		tok, err := p.dec.Token()
		if err != nil {
			return err
		}
		name, ok := tok.(string)
		if !ok {
			return p.doc.errorAt(off, "", "a name is expected here")
		}
		if seen[name] {
			return p.doc.errorAt(off, "", "%q stands here twice", name)
		}
		seen[name] = true
		v, err := p.value(depth + 1)
		if err != nil {
			return err
		}
		n.members = append(n.members, member{name, v})
	}
	_, err := p.dec.Token()
	return err
}
