package design

import (
	"reflect"
	"strconv"
	"strings"
)

// Element is a part of a design that people can be pointed to.
type Element struct {
	ID       string
	Kind     string // for people: "fixture", "vent", "check valve"
	Position Position
}

// Find returns the element with that id. "building" and "project" are the
// objects of those names. "b3/bend-1" and "b3/joint-2" are the first bend and
// the second joint of pipe b3; any other id with a slash, such as
// "b3/upper-end", is the element before the slash.
func (d *Document) Find(id string) (Element, bool) {
	switch id {
	case "project":
		return Element{id, "project", d.Project.Position}, true
	case "building":
		return Element{id, "building", d.Building.Position}, true
	}
	whole, part, composite := strings.Cut(id, "/")
	if composite {
		if e, ok := d.part(whole, part); ok {
			e.ID = id
			return e, true
		}
	}
	e, ok := d.lookup(whole)
	return e, ok
}

func (d *Document) lookup(id string) (found Element, ok bool) {
	if d.index != nil {
		found, ok = d.index[id]
		return found, ok
	}
	d.each(func(e Element) {
		if !ok && e.ID == id {
			found, ok = e, true
		}
	})
	return found, ok
}

// part finds "bend-1" or "joint-1" of a pipe.
func (d *Document) part(pipe, part string) (Element, bool) {
	name, count, _ := strings.Cut(part, "-")
	n, err := strconv.Atoi(count)
	if err != nil || n < 1 || (name != "bend" && name != "joint") {
		return Element{}, false
	}
	for i := range d.Pipes {
		p := &d.Pipes[i]
		switch {
		case p.ID != pipe:
			continue
		case name == "bend" && n <= len(p.Bends):
			return Element{Kind: name, Position: p.Bends[n-1].Position}, true
		case name == "joint" && n <= len(p.Joints):
			return Element{Kind: name, Position: p.Joints[n-1].Position}, true
		}
	}
	return Element{}, false
}

// each calls f for every element that has an id, in the order of Document.
func (d *Document) each(f func(Element)) {
	for _, x := range d.Fixtures {
		f(Element{x.ID, "fixture", x.Position})
	}
	for _, x := range d.Groups {
		f(Element{x.ID, "bathroom group", x.Position})
	}
	for _, x := range d.Junctions {
		f(Element{x.ID, "junction", x.Position})
	}
	for i := range d.Pipes {
		p := &d.Pipes[i]
		f(Element{p.ID, pipeWord(p.Service), p.Position})
		for _, x := range p.Devices {
			f(Element{x.ID, deviceWord(x.Kind), x.Position})
		}
	}
	for _, x := range d.Terminals {
		f(Element{x.ID, plainWord(x.Kind), x.Position})
	}
	for _, x := range d.Basins {
		f(Element{x.ID, "basin", x.Position})
	}
	for _, x := range d.Pumps {
		f(Element{x.ID, "pump", x.Position})
	}
	for _, x := range d.Electrical {
		f(Element{x.ID, "electrical supply", x.Position})
	}
	for _, x := range d.Connections {
		f(Element{x.ID, "connection", x.Position})
	}
}

func pipeWord(service string) string {
	if service == "pumped" {
		return "pumped pipe"
	}
	return service
}

func deviceWord(kind string) string {
	if kind == "full_open_valve" {
		return "full-open valve"
	}
	return plainWord(kind)
}

func plainWord(word string) string { return strings.ReplaceAll(word, "_", " ") }

// PointerPosition returns the line and column of the value that a JSON Pointer
// names or, where it is not there, of the innermost object or list on the way
// to it. It returns zeros for a Document that was not read from a text.
func (d *Document) PointerPosition(pointer string) (line, col int) {
	if d.source == nil {
		return 0, 0
	}
	n, _ := d.source.resolve(pointer)
	nd := &d.source.nodes[n]
	return int(nd.line), int(nd.col)
}

// keyOf returns the JSON key of a struct field.
func keyOf(f reflect.StructField) string {
	key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return key
}
