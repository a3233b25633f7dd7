package facts

import (
	"reflect"
	"strings"
	"sync"
)

var units = sync.OnceValue(func() map[string]string {
	byName := map[string]string{}
	var walk func(t reflect.Type)
	walk = func(t reflect.Type) {
		for t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct {
			return
		}
		for i := range t.NumField() {
			f := t.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if unit := f.Tag.Get("unit"); unit != "" {
				byName[name] = unit
			}
			walk(f.Type)
		}
	}
	walk(reflect.TypeFor[Facts]())
	return byName
})

// UnitOf returns the quantity kind of the fact with that name, "" for words and
// flags. A name has one kind in all groups; a test holds that.
func UnitOf(name string) string { return units()[name] }
