package main

import (
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// valueText prints a table value in a unit system.
func valueText(t *profile.Table, e profile.Entry, units quantity.System) string {
	return t.Text(e, units)
}

// keyText prints the key of a row as the profile states it.
func keyText(e profile.Entry) string { return e.KeyText() }
