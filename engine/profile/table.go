package profile

import (
	"cmp"
	"slices"

	"backpitch/engine/quantity"
)

// Kinds of keys and values beside those of package quantity.
const (
	Word   quantity.Kind = "word"   // a key or value: one word
	Words  quantity.Kind = "words"  // a value: a list of words
	Flag   quantity.Kind = "flag"   // a value: true or false
	Number quantity.Kind = "number" // a value: a bare whole number
)

// Table is one table of a profile in fixed units. Without keys it holds one
// value. A nil Table has no entries.
type Table struct {
	ID    string
	Title string
	Keys  []quantity.Kind
	Value quantity.Kind
	rows  []Entry
	keys  [][]any // of rows, as rules read them
	root  *level
}

// Entry is one value of a table.
type Entry struct {
	Key   []string // as written in the profile
	Value any      // int64, bool, string or []string
	Cite
}

// Int returns a numeric value.
func (e Entry) Int() (int64, bool) {
	n, ok := e.Value.(int64)
	return n, ok
}

// Key is what a table is asked for, in the order of its keys.
type Key struct {
	word string
	at   int64
	how  byte
}

// ByWord asks for a size key such as "DN 80", or another word.
func ByWord(word string) Key { return Key{word: word, how: 'w'} }

// AtOrBelow asks for the row with the greatest number that x reaches.
func AtOrBelow(x int64) Key { return Key{at: x, how: 'b'} }

// AtOrAbove asks for the row with the least number that holds x.
func AtOrAbove(x int64) Key { return Key{at: x, how: 'a'} }

// level is what the table holds once some of its keys are known.
type level struct {
	entry *Entry // after the last key
	words map[string]*level
	steps []step // sorted
}

type step struct {
	at   int64
	next *level
}

// Rows returns every entry in the order of the profile.
func (t *Table) Rows() []Entry {
	if t == nil {
		return nil
	}
	return slices.Clone(t.rows)
}

// ordered reports whether keys of the kind are numbers to be reached, not
// words to be matched.
func ordered(k quantity.Kind) bool { return k != quantity.Size && k != Word }

// Lookup returns the entry for the keys, with its basis and source; false
// where the table does not reach, or is asked for a key of the wrong sort.
func (t *Table) Lookup(keys ...Key) (Entry, bool) {
	if t == nil || len(keys) != len(t.Keys) {
		return Entry{}, false
	}
	at := t.root
	for i, k := range keys {
		switch {
		case (k.how != 'w') != ordered(t.Keys[i]):
			return Entry{}, false
		case k.how == 'w':
			at = at.words[k.word]
		default:
			at = at.step(k)
		}
		if at == nil {
			return Entry{}, false
		}
	}
	return *at.entry, true
}

// step finds the step by the same measure as lib/table.rego does.
func (l *level) step(k Key) *level {
	var found *level
	for _, s := range l.steps {
		if k.how == 'a' && within(k.at-s.at, s.at) {
			return s.next
		}
		if k.how == 'b' && within(s.at-k.at, s.at) {
			found = s.next
		}
	}
	return found
}

// within repeats lib/judge.rego: at the limit is who misses it by no more than
// one part in ten thousand and no more than ten units. A test compares both.
func within(beyond, limit int64) bool {
	if beyond <= 0 {
		return true
	}
	return beyond <= 10 && beyond*10000 <= max(limit, -limit)
}

// add puts an entry at its place; false where one stands there already.
func (t *Table) add(key []any, e Entry) bool {
	at := t.root
	for _, part := range key {
		at = at.child(part)
	}
	if at.entry != nil {
		return false
	}
	t.rows = append(t.rows, e)
	t.keys = append(t.keys, key)
	at.entry = &e
	return true
}

func (l *level) child(key any) *level {
	if word, ok := key.(string); ok {
		if l.words == nil {
			l.words = map[string]*level{}
		}
		if l.words[word] == nil {
			l.words[word] = &level{}
		}
		return l.words[word]
	}
	at := key.(int64)
	i, found := slices.BinarySearchFunc(l.steps, at, func(s step, x int64) int { return cmp.Compare(s.at, x) })
	if !found {
		l.steps = slices.Insert(l.steps, i, step{at, &level{}})
	}
	return l.steps[i].next
}

// data is the level as rules read it.
func (l *level) data() any {
	switch {
	case l.entry != nil:
		if words, ok := l.entry.Value.([]string); ok {
			out := make([]any, len(words))
			for i, w := range words {
				out[i] = w
			}
			return out
		}
		return l.entry.Value
	case l.words != nil:
		out := make(map[string]any, len(l.words))
		for word, next := range l.words {
			out[word] = next.data()
		}
		return out
	}
	out := make([]any, len(l.steps))
	for i, s := range l.steps {
		out[i] = map[string]any{"at": s.at, "value": s.next.data()}
	}
	return out
}
