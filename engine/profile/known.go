package profile

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/json"
	"fmt"
	"strings"
	"sync"

	"backpitch/schema"
)

// knownDigests are the digests of the schema of profiles and of the project's own
// profiles, which a test has found to keep to it. Whether they do need not be
// asked at each start: that is two thirds of the time it takes to load one. A
// profile that was changed, or comes from elsewhere, is not among them.
//
//go:embed known.txt
var knownDigests string

var knownProfiles = sync.OnceValue(func() map[string]bool {
	lines := strings.Fields(knownDigests)
	known := map[string]bool{}
	raw, err := schema.Raw("profile")
	if err != nil {
		panic("profile: " + err.Error())
	}
	if len(lines) == 0 || lines[0] != digest(raw) {
		return known
	}
	for _, line := range lines[1:] {
		known[line] = true
	}
	return known
})

func digest(data []byte) string { return fmt.Sprintf("%x", sha256.Sum256(data)) }

// known reports whether the document is known to keep to the schema.
func (d *document) known() bool { return knownProfiles()[digest(d.data)] }

// quick parses a document that is known to be sound, in a tenth of the time that
// parse takes. It looks at nothing twice and finds no fault.
type quick struct {
	doc   *document
	off   int
	nodes []node // room for those to come
}

// next passes over blanks and returns the byte behind them.
func (q *quick) next() byte {
	for strings.IndexByte(" \t\r\n,:", q.doc.data[q.off]) >= 0 {
		q.off++
	}
	return q.doc.data[q.off]
}

func (q *quick) node() *node {
	if len(q.nodes) == 0 {
		q.nodes = make([]node, 256)
	}
	n := &q.nodes[0]
	q.nodes = q.nodes[1:]
	n.doc, n.off = q.doc, q.off
	return n
}

func (q *quick) value() *node {
	c := q.next()
	n := q.node()
	switch c {
	case '{':
		n.kind = object
		for q.off++; q.next() != '}'; {
			name := q.text()
			n.members = append(n.members, member{name, q.value()})
		}
		q.off++
	case '[':
		n.kind = array
		for q.off++; q.next() != ']'; {
			n.items = append(n.items, q.value())
		}
		q.off++
	case '"':
		n.kind, n.text = text, q.text()
	case 'n':
		q.off += len("null")
	case 't':
		n.kind, n.flag = boolean, true
		q.off += len("true")
	case 'f':
		n.kind = boolean
		q.off += len("false")
	default:
		from := q.off
		for strings.IndexByte("+-.0123456789Ee", q.doc.data[q.off]) >= 0 {
			q.off++
		}
		n.kind, n.text = number, string(q.doc.data[from:q.off])
	}
	return n
}

func (q *quick) text() string {
	data := q.doc.data[q.off+1:]
	end := bytes.IndexByte(data, '"')
	if bytes.IndexByte(data[:end], '\\') < 0 {
		q.off += end + 2
		return string(data[:end])
	}
	for end = 0; data[end] != '"'; end++ {
		if data[end] == '\\' {
			end++
		}
	}
	var s string
	if err := json.Unmarshal(q.doc.data[q.off:q.off+end+2], &s); err != nil {
		panic("profile: " + err.Error())
	}
	q.off += end + 2
	return s
}
