package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/tailscale/hujson"
)

// addition is a member that an object of a document gets.
type addition struct {
	object string // a member of the document
	name   string
	value  string // JSON
}

// insert adds members to objects of a JSON document. All text that stands there
// already is kept byte for byte; an object that is missing is added.
func insert(text []byte, additions []addition) ([]byte, error) {
	doc, err := hujson.Parse(text)
	if err != nil {
		return nil, err
	}
	root, ok := doc.Value.(*hujson.Object)
	if !ok {
		return nil, errors.New("the document is not an object")
	}
	for _, a := range additions {
		value, err := hujson.Parse([]byte(a.value))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", a.name, err)
		}
		object := doc.Find("/" + a.object)
		if object == nil {
			put(root, a.object, hujson.Value{Value: &hujson.Object{}}, "  ")
			object = doc.Find("/" + a.object)
		}
		members, ok := object.Value.(*hujson.Object)
		if !ok {
			return nil, fmt.Errorf("%q is not an object", a.object)
		}
		if object.Find("/"+pointerPart.Replace(a.name)) != nil {
			return nil, fmt.Errorf("%q has %q already", a.object, a.name)
		}
		put(members, a.name, value, "    ")
	}
	return doc.Pack(), nil
}

var pointerPart = strings.NewReplacer("~", "~0", "/", "~1")

// put appends a member on a line of its own.
func put(object *hujson.Object, name string, value hujson.Value, indent string) {
	value.BeforeExtra = hujson.Extra(" ")
	member := hujson.ObjectMember{Name: hujson.Value{BeforeExtra: hujson.Extra("\n" + indent), Value: hujson.String(name)}, Value: value}
	if len(object.Members) > 0 {
		// Without a comma after the last member, what stands before the brace
		// belongs to the object; a comma there would be no JSON.
		object.Members[len(object.Members)-1].Value.AfterExtra = nil
	}
	object.Members = append(object.Members, member)
	if !strings.Contains(string(object.AfterExtra), "\n") {
		object.AfterExtra = hujson.Extra("\n" + indent[2:])
	}
}

// replaceFile writes a file anew, whole or not at all.
func replaceFile(path string, text []byte) error {
	return writeTo(path, nil, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
}
