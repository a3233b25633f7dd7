package quantity

import (
	"fmt"
	"math/big"
	"strings"
)

// Kind says what a quantity measures, and so which units it may carry.
type Kind string

// The kinds. [Units] gives the fixed unit of each.
const (
	Length        Kind = "length"         // also elevations, depths, pump head; may be negative
	Size          Kind = "size"           // nominal pipe size, a DN number
	Slope         Kind = "slope"          // fall per run; may be negative
	Flow          Kind = "flow"           // volume per time
	Volume        Kind = "volume"         // also of one flush
	Velocity      Kind = "velocity"       // mean, in the pipe
	Duration      Kind = "duration"       // run times, test times
	Weight        Kind = "weight"         // mass, as the trade says weight
	Pressure      Kind = "pressure"       // gauge; may be negative
	Angle         Kind = "angle"          // may be negative
	Load          Kind = "load"           // drainage fixture units
	DischargeUnit Kind = "discharge_unit" // litres per second, not a flow but a weight in a probability formula
	Ratio         Kind = "ratio"          // a part of a whole
	Factor        Kind = "factor"         // a multiplier, written bare
	Count         Kind = "count"          // whole things, written bare
	Number        Kind = "number"         // a dimensionless coefficient, written bare; may be negative
	LoadPerFlow   Kind = "load_per_flow"  // fixture units that stand for a continuous flow
	Area          Kind = "area"           // of a plan or a section
	Density       Kind = "density"        // mass per volume
)

// Kinds returns every kind, in a fixed order.
func Kinds() []Kind {
	out := make([]Kind, len(kindTable))
	for i := range kindTable {
		out[i] = kindTable[i].kind
	}
	return out
}

// Units returns the name of each kind's fixed unit, the one whole numbers of
// that kind count in [Value.Fixed], [FromFixed] and [Format]. The map is fresh.
func Units() map[Kind]string {
	out := make(map[Kind]string, len(kindTable))
	for i := range kindTable {
		out[kindTable[i].kind] = kindTable[i].fixed
	}
	return out
}

// label is the kind's name in a sentence, with its article.
func (k Kind) label() string {
	name := strings.ReplaceAll(string(k), "_", " ")
	if name != "" && strings.ContainsRune("aeiou", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}

// kindInfo is what the package knows of one kind.
type kindInfo struct {
	kind   Kind
	fixed  string // name of the fixed unit
	scale  int64  // fixed units in one SI base unit
	signed bool
	bare   bool     // written without a unit
	usual  []string // symbols the hints offer, most usual first
	plain  *unit    // the unit FromFixed writes in
	units  []unit
	lookup map[string]*unit
}

// unit is one accepted unit. Symbol is its canonical spelling; also holds
// further spellings as [plainUnit] leaves them.
type unit struct {
	symbol     string
	num, den   int64 // SI base units in one of this unit
	also       []string
	tight      bool  // written against the number: 45°
	fnum, fden int64 // fixed units in one of this unit, in lowest terms
}

// write appends the symbol to a written number.
func (u *unit) write(number string) string {
	if u.symbol == "" {
		return number
	}
	if u.tight {
		return number + u.symbol
	}
	return number + " " + u.symbol
}

var (
	kinds = map[Kind]*kindInfo{}
	// kindOfUnit finds the kind of a unit that was written for another kind.
	kindOfUnit = map[string]Kind{}
)

func init() {
	for i := range kindTable {
		info := &kindTable[i]
		info.lookup = map[string]*unit{}
		for j := range info.units {
			u := &info.units[j]
			u.fnum, u.fden = lowest(u.num, u.den, info.scale)
			for _, name := range append([]string{u.symbol, plainUnit(u.symbol)}, u.also...) {
				if old := info.lookup[name]; old != nil && old != u {
					panic(fmt.Sprintf("quantity: %q is two units of %s", name, info.kind))
				}
				info.lookup[name] = u
				if _, taken := kindOfUnit[name]; !taken {
					kindOfUnit[name] = info.kind
				}
			}
			if u.symbol == info.units[0].symbol {
				info.plain = u
			}
		}
		kinds[info.kind] = info
	}
}

// lowest returns num*scale/den in lowest terms.
func lowest(num, den, scale int64) (int64, int64) {
	r := big.NewRat(num, den)
	r.Mul(r, new(big.Rat).SetInt64(scale))
	if !r.Num().IsInt64() || !r.Denom().IsInt64() {
		panic("quantity: conversion factor too large")
	}
	return r.Num().Int64(), r.Denom().Int64()
}
