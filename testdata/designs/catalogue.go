// Package catalogue carries the catalogue of known faults.
//
// What leaves: one file system with faults as it was when the
// program was built, each file a fault that engine/plant reads. Nothing is
// planted or judged here.
package catalogue

import (
	"embed"
	"io/fs"
)

//go:embed faults
var files embed.FS

// Faults is the root of the catalogue: <topic>/<rule>.json.
func Faults() fs.FS {
	sub, err := fs.Sub(files, "faults")
	if err != nil {
		panic("catalogue: " + err.Error())
	}
	return sub
}
