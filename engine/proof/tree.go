package proof

import (
	"maps"
	"slices"
	"strings"
)

// route leads to a value in a tree of maps and lists: names are strings, places
// in a list are ints.
type route []any

func (p route) name() string {
	last, _ := p[len(p)-1].(string)
	return last
}

// under reports whether the route runs through top.
func (p route) under(top route) bool {
	return len(p) > len(top) && slices.Equal(p[:len(top)], top)
}

func get(tree any, p route) (any, bool) {
	for _, step := range p {
		switch at := tree.(type) {
		case map[string]any:
			name, _ := step.(string)
			next, ok := at[name]
			if !ok {
				return nil, false
			}
			tree = next
		case []any:
			i, ok := step.(int)
			if !ok || i >= len(at) {
				return nil, false
			}
			tree = at[i]
		default:
			return nil, false
		}
	}
	return tree, true
}

// set returns the tree with another value at the route; what is not on the route
// is shared. Removed takes the value out.
func set(tree any, p route, value any) any {
	if len(p) == 0 {
		return value
	}
	switch at := tree.(type) {
	case map[string]any:
		out := maps.Clone(at)
		name := p[0].(string)
		if value == removed && len(p) == 1 {
			delete(out, name)
			return out
		}
		next, ok := at[name]
		if !ok && len(p) > 1 {
			next = map[string]any{}
		}
		out[name] = set(next, p[1:], value)
		return out
	case []any:
		out := slices.Clone(at)
		out[p[0].(int)] = set(at[p[0].(int)], p[1:], value)
		return out
	}
	return tree
}

type nothing struct{}

// removed is what set takes for a value to leave it out.
var removed any = nothing{}

// leaves visits every word, number and truth value, and every list of words,
// in a fixed order.
func leaves(tree any, at route, visit func(route, any)) {
	switch v := tree.(type) {
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			leaves(v[name], append(slices.Clone(at), name), visit)
		}
	case []any:
		if words(v) {
			visit(at, v)
			return
		}
		for i, item := range v {
			leaves(item, append(slices.Clone(at), i), visit)
		}
	default:
		visit(at, v)
	}
}

func words(list []any) bool {
	for _, item := range list {
		if _, ok := item.(string); !ok {
			return false
		}
	}
	return true
}

// find returns the route of a subject: the element of that id in the group, in
// any group where group is "".
func find(tree any, group, id string) route {
	root, _ := tree.(map[string]any)
	for _, name := range slices.Sorted(maps.Keys(root)) {
		if group != "" && name != group {
			continue
		}
		switch v := root[name].(type) {
		case map[string]any:
			if v["id"] == id {
				return route{name}
			}
		case []any:
			for i, item := range v {
				if e, ok := item.(map[string]any); ok && e["id"] == id {
					return route{name, i}
				}
			}
		}
	}
	return nil
}

// dotted is a fact's name as rules write it, below its subject.
func dotted(p, subject route) string {
	if p.under(subject) {
		p = p[len(subject):]
	}
	var parts []string
	for _, step := range p {
		if name, ok := step.(string); ok {
			parts = append(parts, name)
		}
	}
	return strings.Join(parts, ".")
}
