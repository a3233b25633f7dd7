// Package backpitch carries the catalogue of known faults.
//
// What leaves: one file system with testdata/designs/faults as it was when the
// program was built, each file a fault that engine/plant reads. Nothing is
// planted or judged here.
package backpitch

import (
	"embed"
	"io/fs"
)

//go:embed testdata/designs/faults
var files embed.FS

// Faults is the root of the catalogue: <topic>/<rule>.json.
func Faults() fs.FS {
	sub, err := fs.Sub(files, "testdata/designs/faults")
	if err != nil {
		panic("backpitch: " + err.Error())
	}
	return sub
}
