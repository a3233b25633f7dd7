// Package profile reads what one jurisdiction asks for.
//
// What enters: the policies file system and a profile's id. What leaves: a
// Profile with its tables in fixed units, the rules it adopts, the basis and
// source of every figure, and the same tables as plain data for rules.
// A profile may amend another one: its file is then a merge patch (RFC 7396)
// over the other's, and every figure remembers which of the two it came from.
//
// Refused, by name and with file, line and column: an unknown word, a quantity
// that does not parse, a figure without basis or source, an adopted rule that
// does not exist, a base that does not exist, a ring of amendments, an
// amendment that changes nothing, two rows for one key. Nothing is judged here.
package profile
