package facts

import (
	"reflect"
	"strings"
	"testing"
)

func TestOneUnitForOneName(t *testing.T) {
	seen := map[string]string{}
	all := reflect.TypeFor[Facts]()
	for i := range all.NumField() {
		group := all.Field(i).Type
		if group.Kind() == reflect.Slice {
			group = group.Elem()
		}
		for j := range group.NumField() {
			f := group.Field(j)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			unit := f.Tag.Get("unit")
			if before, ok := seen[name]; ok && before != unit {
				t.Errorf("fact %q is a %q in %s and a %q elsewhere", name, unit, group.Name(), before)
			}
			seen[name] = unit
		}
	}
	if UnitOf("slope") != "slope" || UnitOf("inlet_height") != "length" || UnitOf("kind") != "" {
		t.Errorf("UnitOf: slope %q, inlet_height %q, kind %q", UnitOf("slope"), UnitOf("inlet_height"), UnitOf("kind"))
	}
}
