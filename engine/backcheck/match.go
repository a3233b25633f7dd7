package backcheck

import (
	"maps"

	"backpitch/engine/finding"
)

// match pairs the elements of two submissions: by id, and what is then left by
// content. Elements that look alike are told apart by what they join; those
// that still look alike are not paired. What is found does not depend on any
// order, and is the same in both directions.
func match(earlier, later parts) *matching {
	m := &matching{earlier: earlier, later: later, to: map[string]string{}, from: map[string]string{}, became: map[string]finding.Part{}}
	for id, e := range earlier {
		if l, ok := later[id]; ok && l.Kind == e.Kind {
			m.to[id], m.from[id] = id, id
		}
	}
	s := &search{m: m, then: newLooks(earlier, m.to, m.to), now: newLooks(later, m.from, nil)}
	for dirty := s.all(); len(dirty) > 0; {
		dirty = s.round(dirty)
	}
	return m
}

// free stands for an id that has no partner yet; no id can be this.
const free = "\x00"

// looks is how the elements of one submission that have no partner look, the
// ids of those without a partner left out.
type looks struct {
	parts
	paired map[string]string          // those that have a partner
	name   map[string]string          // how to call them; nil: by their own ids
	look   map[string]string          // of each element without a partner
	like   map[string]map[string]bool // elements that look so
	users  map[string][]string        // elements that name an id
}

func newLooks(all parts, paired, name map[string]string) *looks {
	l := &looks{parts: all, paired: paired, name: name, look: map[string]string{}, like: map[string]map[string]bool{}, users: map[string][]string{}}
	for id, p := range all {
		if _, ok := paired[id]; ok {
			continue
		}
		p.with(func(named string) string {
			l.users[named] = append(l.users[named], id)
			return named
		})
		l.see(id)
	}
	return l
}

// see looks at an element, for the first time or again.
func (l *looks) see(id string) (look string) {
	delete(l.like[l.look[id]], id)
	p := l.parts[id]
	look = p.Kind + p.with(func(named string) string {
		to, ok := l.paired[named]
		switch {
		case !ok:
			return free
		case l.name == nil:
			return named
		}
		return to
	})
	l.look[id] = look
	if l.like[look] == nil {
		l.like[look] = map[string]bool{}
	}
	l.like[look][id] = true
	return look
}

// only returns the one element that looks so.
func (l *looks) only(look string) (string, bool) {
	if len(l.like[look]) != 1 {
		return "", false
	}
	for id := range l.like[look] {
		return id, true
	}
	return "", false
}

// search is a matching that goes on.
type search struct {
	m         *matching
	then, now *looks
}

// all returns every look there is.
func (s *search) all() map[string]bool {
	dirty := map[string]bool{}
	for look := range s.then.like {
		dirty[look] = true
	}
	return dirty
}

// round pairs what has one partner only among the looks that are new, and what
// both of a new pair name at the same place. It returns the looks that are then
// new.
func (s *search) round(dirty map[string]bool) map[string]bool {
	found := map[string]string{}
	for look := range dirty {
		a, ok := s.then.only(look)
		b, ok2 := s.now.only(look)
		if ok && ok2 {
			found[a] = b
		}
	}
	for a, b := range found {
		s.m.to[a], s.m.from[b] = b, a
	}
	named := proposals{}
	for a, b := range found {
		named.walk(s.m.earlier[a].value, s.m.later[b].value, false)
	}
	maps.Copy(found, s.m.take(named))
	next := map[string]bool{}
	for a, b := range found {
		next[s.then.look[a]], next[s.now.look[b]] = true, true
		delete(s.then.like[s.then.look[a]], a)
		delete(s.now.like[s.now.look[b]], b)
	}
	for a, b := range found {
		s.then.again(a, next)
		s.now.again(b, next)
	}
	return next
}

// again looks once more at the elements that name an id.
func (l *looks) again(id string, next map[string]bool) {
	for _, user := range l.users[id] {
		if _, ok := l.paired[user]; !ok {
			next[l.look[user]] = true
			next[l.see(user)] = true
		}
	}
}

// proposals are later ids that an earlier one may have become.
type proposals map[string]map[string]bool

func (p proposals) add(then, now string) {
	if p[then] == nil {
		p[then] = map[string]bool{}
	}
	p[then][now] = true
}

// take pairs what was proposed where nothing speaks against it.
func (m *matching) take(named proposals) map[string]string {
	back := proposals{}
	for then, list := range named {
		for now := range list {
			back.add(now, then)
		}
	}
	taken := map[string]string{}
	for then, list := range named {
		for now := range list {
			a, ok := m.earlier[then]
			b, ok2 := m.later[now]
			_, has := m.to[then]
			_, has2 := m.from[now]
			if len(list) == 1 && len(back[now]) == 1 && ok && ok2 && !has && !has2 && a.Kind == b.Kind {
				taken[then] = now
			}
		}
	}
	for then, now := range taken {
		m.to[then], m.from[now] = now, then
	}
	return taken
}

// walk proposes the ids that two elements name at the same place.
func (p proposals) walk(a, b any, reference bool) {
	switch a := a.(type) {
	case map[string]any:
		b, _ := b.(map[string]any)
		for key, x := range a {
			p.walk(x, b[key], references[key])
		}
	case []any:
		b, _ := b.([]any)
		for i := range min(len(a), len(b)) {
			p.walk(a[i], b[i], reference)
		}
	case string:
		if b, ok := b.(string); ok && reference {
			p.add(a, b)
		}
	}
}
