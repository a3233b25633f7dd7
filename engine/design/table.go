package design

import (
	"encoding/json"
	"strconv"
	"strings"
)

// nodeKind is the JSON type of a node.
type nodeKind uint8

const (
	objectNode nodeKind = iota
	arrayNode
	stringNode
	numberNode
	trueNode
	falseNode
	nullNode
)

// words names the JSON types for people.
var words = [...]string{"an object", "a list", "text", "a number", "true", "false", "null"}

// node is one JSON value and where it stands. Offsets count bytes, lines and
// columns count from 1, columns in characters.
type node struct {
	kind                nodeKind
	escaped, keyEscaped bool  // the text has a backslash
	parent              int32 // -1 for the document
	index               int32 // place among its siblings, from 0
	count               int32 // children
	next                int32 // the node after this one and all inside it
	key, keyEnd         int32 // of the key, without its quotes
	start, end          int32 // of the value, with its quotes
	keyLine, keyCol     int32
	line, col           int32
}

// table is a scanned JSON text: its nodes in the order of the file.
type table struct {
	src   []byte
	nodes []node
}

// key returns the decoded key of node n, which is in an object.
func (t *table) key(n int32) string {
	nd := &t.nodes[n]
	if nd.keyEscaped {
		return unescape(t.src[nd.key-1 : nd.keyEnd+1])
	}
	return string(t.src[nd.key:nd.keyEnd])
}

// hasKey reports whether the key of node n is key.
func (t *table) hasKey(n int32, key string) bool {
	nd := &t.nodes[n]
	if nd.keyEscaped {
		return t.key(n) == key
	}
	return string(t.src[nd.key:nd.keyEnd]) == key
}

// elements counts the objects that have an id.
func (t *table) elements() int {
	found := 0
	for n := range t.nodes {
		if nd := &t.nodes[n]; nd.keyEnd > nd.key && t.hasKey(int32(n), "id") {
			found++
		}
	}
	return found
}

// text returns the decoded text of node n, which is a string.
func (t *table) text(n int32) string {
	nd := &t.nodes[n]
	if nd.escaped {
		return unescape(t.src[nd.start:nd.end])
	}
	return string(t.src[nd.start+1 : nd.end-1])
}

// literal returns node n as written.
func (t *table) literal(n int32) string {
	return string(t.src[t.nodes[n].start:t.nodes[n].end])
}

// unescape decodes a quoted string that was scanned without a fault.
func unescape(quoted []byte) string {
	var s string
	if err := json.Unmarshal(quoted, &s); err != nil {
		panic("design: " + err.Error())
	}
	return s
}

// number returns the value of node n, which is a number in range.
func (t *table) number(n int32) float64 {
	x, _ := strconv.ParseFloat(t.literal(n), 64)
	return x
}

// inArray reports whether node n is an item of a list.
func (t *table) inArray(n int32) bool {
	p := t.nodes[n].parent
	return p >= 0 && t.nodes[p].kind == arrayNode
}

// pointer returns the JSON Pointer (RFC 6901) of node n.
func (t *table) pointer(n int32) string {
	if len(t.nodes) == 0 {
		return ""
	}
	var tokens []string
	for ; t.nodes[n].parent >= 0; n = t.nodes[n].parent {
		if t.inArray(n) {
			tokens = append(tokens, strconv.Itoa(int(t.nodes[n].index)))
		} else {
			tokens = append(tokens, pointerEscape.Replace(t.key(n)))
		}
	}
	var b strings.Builder
	for i := len(tokens) - 1; i >= 0; i-- {
		b.WriteByte('/')
		b.WriteString(tokens[i])
	}
	return b.String()
}

var (
	pointerEscape   = strings.NewReplacer("~", "~0", "/", "~1")
	pointerUnescape = strings.NewReplacer("~1", "/", "~0", "~")
)

// resolve returns the node that pointer names, and whether it is there; where
// it is not, the node is the innermost one on the way.
func (t *table) resolve(pointer string) (n int32, found bool) {
	if pointer == "" {
		return 0, true
	}
	if pointer[0] != '/' {
		return 0, false
	}
	for token := range strings.SplitSeq(pointer[1:], "/") {
		next := int32(-1)
		switch t.nodes[n].kind {
		case objectNode:
			next = t.child(n, pointerUnescape.Replace(token))
		case arrayNode:
			next = t.item(n, token)
		}
		if next < 0 {
			return n, false
		}
		n = next
	}
	return n, true
}

// child returns the member of object n with that key, or -1.
func (t *table) child(n int32, key string) int32 {
	for c := n + 1; c < t.nodes[n].next; c = t.nodes[c].next {
		if t.hasKey(c, key) {
			return c
		}
	}
	return -1
}

// item returns the item of list n that token counts, or -1. It halves the
// nodes of the list instead of walking them: lists may be long.
func (t *table) item(n int32, token string) int32 {
	at, err := strconv.ParseInt(token, 10, 32)
	if err != nil || at < 0 || int32(at) >= t.nodes[n].count || strconv.Itoa(int(at)) != token {
		return -1
	}
	lo, hi := n+1, t.nodes[n].next
	for {
		m := lo + (hi-lo)/2
		for t.nodes[m].parent != n {
			m = t.nodes[m].parent
		}
		switch k := t.nodes[m].index; {
		case k == int32(at):
			return m
		case k < int32(at):
			lo = t.nodes[m].next
		default:
			hi = m
		}
	}
}

// value returns node n as the schema library takes it. Of a key given twice,
// the first counts.
func (t *table) value(n int32) any {
	nd := &t.nodes[n]
	switch nd.kind {
	case objectNode:
		out := make(map[string]any, nd.count)
		for c := n + 1; c < nd.next; c = t.nodes[c].next {
			key := t.key(c)
			if _, twice := out[key]; !twice {
				out[key] = t.value(c)
			}
		}
		return out
	case arrayNode:
		out := make([]any, 0, nd.count)
		for c := n + 1; c < nd.next; c = t.nodes[c].next {
			out = append(out, t.value(c))
		}
		return out
	case stringNode:
		return t.text(n)
	case numberNode:
		return t.number(n)
	case nullNode:
		return nil
	}
	return nd.kind == trueNode
}

// position returns where node n stands.
func (t *table) position(n int32) Position {
	return Position{Line: int(t.nodes[n].line), Col: int(t.nodes[n].col), Pointer: t.pointer(n)}
}
