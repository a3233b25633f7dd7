package design

import (
	"fmt"
	"strconv"
)

// reserved ids stand for objects that have none.
var reserved = map[string]bool{"building": true, "project": true}

// check reports ids that are used twice, reserved, or named but not there. It
// also makes the index of doc.
func check(doc *Document, f *faults) {
	c := &checker{doc: doc, faults: f, byKind: map[string][]string{}}
	doc.index = map[string]Element{}
	doc.each(c.element)
	for _, g := range doc.Groups {
		seen := map[string]bool{}
		for i, id := range g.Fixtures {
			at := g.Position.Pointer + "/fixtures/" + strconv.Itoa(i)
			c.names(at, "bathroom group", g.ID, id, "fixture")
			if seen[id] {
				c.add(at, "repeated_id", func() (string, string) {
					return fmt.Sprintf("bathroom group %q names fixture %q twice", g.ID, id), ""
				})
			}
			seen[id] = true
		}
	}
	for _, p := range doc.Pumps {
		c.names(p.Position.Pointer+"/basin", "pump", p.ID, p.Basin, "basin")
	}
	for _, e := range doc.Electrical {
		c.names(e.Position.Pointer+"/pump", "electrical supply", e.ID, e.Pump, "pump")
	}
}

type checker struct {
	doc    *Document
	faults *faults
	byKind map[string][]string // ids of each kind, for hints
}

func (c *checker) add(pointer, code string, tell func() (string, string)) {
	n, _ := c.doc.source.resolve(pointer)
	c.faults.addAt(n, false, code, tell)
}

func (c *checker) element(e Element) {
	at := e.Position.Pointer + "/id"
	if reserved[e.ID] {
		c.add(at, "reserved_id", func() (string, string) {
			return fmt.Sprintf("no element can have the id %q; it stands for the whole %s", e.ID, e.ID), "choose another id"
		})
	}
	first, twice := c.doc.index[e.ID]
	if twice {
		c.add(at, "duplicate_id", func() (string, string) {
			return fmt.Sprintf("the id %q is also that of the %s on line %d", e.ID, first.Kind, first.Position.Line),
				"every element of a design has its own id, whatever its kind"
		})
		return
	}
	c.doc.index[e.ID] = e
	c.byKind[e.Kind] = append(c.byKind[e.Kind], e.ID)
}

// names checks that id, which the element who names at pointer, is there and
// of the wanted kind.
func (c *checker) names(pointer, whoKind, who, id, wanted string) {
	e, ok := c.doc.index[id]
	if ok && e.Kind == wanted {
		return
	}
	c.add(pointer, "dangling_id", func() (string, string) {
		hint := didYouMean(id, c.byKind[wanted])
		if ok {
			return fmt.Sprintf("%s %q names %q as a %s, but it is the %s on line %d", whoKind, who, id, wanted, e.Kind, e.Position.Line), hint
		}
		if hint == "" && len(c.byKind[wanted]) == 0 {
			hint = fmt.Sprintf("the design has no %s", wanted)
		}
		return fmt.Sprintf("%s %q names the %s %q, which is not in the design", whoKind, who, wanted, id), hint
	})
}
