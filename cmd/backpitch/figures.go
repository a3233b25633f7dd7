package main

import (
	"fmt"
	"strings"

	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// valueText prints a table value in a unit system.
func valueText(t *profile.Table, e profile.Entry, units quantity.System) string {
	switch v := e.Value.(type) {
	case int64:
		return quantity.FormatLimit(t.Value, v, units)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case []string:
		return strings.Join(v, ", ")
	}
	return fmt.Sprint(e.Value)
}

// keyText prints the key of a row as the profile states it.
func keyText(e profile.Entry) string { return strings.Join(e.Key, ", ") }

// loadText prints a fixture's load: fixture units, or discharge units in L/s.
func loadText(p *profile.Profile, load *int64) string {
	if load == nil {
		return "not stated"
	}
	kind := quantity.Load
	if p.Method.Load == "discharge_units" {
		kind = quantity.DischargeUnit
	}
	return quantity.Format(kind, *load, p.Units)
}
