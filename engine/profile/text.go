package profile

import (
	"fmt"
	"strings"

	"backpitch/engine/quantity"
)

// Text is the value for people who work in the profile's units. What people
// read is rounded; where that would hide something the exact number follows.
func (t *Table) Text(e Entry, units quantity.System) string {
	return valueText(t.Value, e.Value, units)
}

// KeyText is the key of a row as the profile writes it.
func (e Entry) KeyText() string { return strings.Join(e.Key, ", ") }

func valueText(kind quantity.Kind, value any, units quantity.System) string {
	switch v := value.(type) {
	case int64:
		if kind == Number {
			return fmt.Sprint(v)
		}
		return numberText(kind, v, units)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case []string:
		if len(v) == 0 {
			return "none"
		}
		return strings.Join(v, ", ")
	}
	return fmt.Sprint(value)
}

// numberText is the rounded number and, where it is not the number itself, the
// number in its fixed unit.
func numberText(kind quantity.Kind, v int64, units quantity.System) string {
	text := quantity.FormatLimit(kind, v, units)
	if back, err := quantity.ParseLimit(kind, text); err != nil || back != v {
		return fmt.Sprintf("%s (%d %s)", text, v, quantity.Units()[kind])
	}
	return text
}

// LoadKind is the kind of the profile's loads.
func (p *Profile) LoadKind() quantity.Kind {
	if p.Method.Load == "discharge_units" {
		return quantity.DischargeUnit
	}
	return quantity.Load
}

// Text is what a fixture row says, its conditions first.
func (f Fixture) Text(p *Profile) string {
	words := []string{f.Kind}
	add := func(label, value string) {
		if value != "" {
			words = append(words, label+value)
		}
	}
	bound := func(label string, kind quantity.Kind, v *int64) {
		if v != nil {
			add(label, numberText(kind, *v, p.Units))
		}
	}
	add("", f.Use)
	add("", f.FlushType)
	if f.Emergency != nil {
		add("emergency ", valueText(Flag, *f.Emergency, p.Units))
	}
	bound("flush at most ", quantity.Volume, f.Flush)
	bound("flow at most ", quantity.Flow, f.Flow)
	bound("trap at most ", quantity.Size, f.TrapAt)
	if f.Assume {
		add("", "or not stated")
	}
	result := []string{"no load stated"}
	if f.Load != nil {
		result[0] = "load " + numberText(p.LoadKind(), *f.Load, p.Units)
	}
	if f.Trap != nil {
		result = append(result, "trap "+numberText(quantity.Size, *f.Trap, p.Units))
	}
	return strings.Join(words, ", ") + ": " + strings.Join(result, ", ")
}

// Text is what a bathroom group row says.
func (g Group) Text(p *Profile) string {
	text := "load " + numberText(p.LoadKind(), g.Load, p.Units)
	if g.Flush != nil {
		return "flush at most " + numberText(quantity.Volume, *g.Flush, p.Units) + ": " + text
	}
	return "any flush: " + text
}
