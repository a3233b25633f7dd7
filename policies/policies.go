// Package policies carries the rules and the jurisdiction profiles.
//
// What leaves: one file system with lib, rules and profiles, as they were when
// the program was built. Nothing is read or judged here.
package policies

import (
	"embed"
	"io/fs"
)

//go:embed all:lib all:rules all:profiles waivers.json
var files embed.FS

// FS is the root of the policies: lib/, rules/<topic>/<rule>.rego, waivers.json and
// profiles/<id>/profile.json.
func FS() fs.FS { return files }
