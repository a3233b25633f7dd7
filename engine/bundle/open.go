package bundle

import (
	"bytes"
	"encoding/json"
	"path"
	"regexp"
	"slices"
	"strings"

	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// Open reads a bundle and checks everything that can be told without running
// its rules. With a public key, in PEM, the signature is checked before
// anything else is looked at.
func Open(data, publicKey []byte, limits Limits) (*Bundle, error) {
	files, err := unpack(data, limits)
	if err != nil {
		return nil, err
	}
	b := &Bundle{files: files, Signed: files[signaturesFile] != nil}
	if publicKey != nil {
		if err := b.verify(publicKey); err != nil {
			return nil, err
		}
		b.Verified = true
	}
	if err := b.check(); err != nil {
		return nil, err
	}
	return b, nil
}

func (b *Bundle) check() error {
	for _, name := range b.Names() {
		if err := checkName(name); err != nil {
			return err
		}
		if err := checkPackage(name, b.files[name]); err != nil {
			return err
		}
	}
	m, err := readManifest(b.files[manifestFile])
	if err != nil {
		return err
	}
	b.Profile, b.Revision = m.Metadata.Backpitch.Profile, m.Revision
	p, err := profile.Load(b.files, b.Profile)
	if err != nil {
		return err
	}
	if err := b.sameProfile(p); err != nil {
		return err
	}
	if !bytes.Equal(b.files[entryFile], entry(p.Rules())) {
		return refuse("pack the profile again", "%s is not the module that asks the rules of the profile", entryFile)
	}
	return b.nothingMore(p)
}

// nothingMore refuses policies that the profile does not use.
func (b *Bundle) nothingMore(p *profile.Profile) error {
	used, err := policy.Sources(b.files, p, true)
	if err != nil {
		return err
	}
	for _, name := range b.Names() {
		switch name {
		case manifestFile, signaturesFile, dataFile, entryFile, schemaFile:
			continue
		}
		if _, ok := used[name]; !ok {
			return refuse("", "%q is not used by the profile %q", name, b.Profile)
		}
	}
	return nil
}

func readManifest(data []byte) (manifest, error) {
	var m manifest
	if data == nil {
		return m, refuse("a bundle is what profile pack writes", "the bundle has no %s", manifestFile)
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&m); err != nil {
		return m, refuse("a bundle is what profile pack writes", "%s: %s", manifestFile, err)
	}
	for _, r := range m.Roots {
		if !slices.Contains(roots, r) {
			return m, refuse("a profile's bundle owns "+strings.Join(roots, ", "), "the bundle claims the foreign root %q", r)
		}
	}
	for _, r := range roots {
		if !slices.Contains(m.Roots, r) {
			return m, refuse("pack the profile again", "the bundle does not own its root %q", r)
		}
	}
	a := m.Metadata.Backpitch
	switch {
	case a.Format != format:
		return m, refuse("pack the profile again with this program", "the bundle has format %d; this program reads %d", a.Format, format)
	case m.RegoVersion != 1:
		return m, refuse("", "the bundle is written in version %d of Rego, not 1", m.RegoVersion)
	case !profileID.MatchString(a.Profile):
		return m, refuse("", "%s names no profile: %.100q", manifestFile, a.Profile)
	}
	return m, nil
}

var (
	profileID = regexp.MustCompile(`^[a-z0-9][a-z0-9._-]*$`)
	// members are the files that a bundle may have.
	members = regexp.MustCompile(`^(lib/[a-z0-9_]+\.rego|(profiles/[a-z0-9][a-z0-9._-]*/)?rules/[a-z0-9_]+/[a-z0-9_]+\.rego|profiles/[a-z0-9][a-z0-9._-]*/profile\.json)$`)
)

func checkName(name string) error {
	switch name {
	case manifestFile, signaturesFile, dataFile, entryFile, schemaFile:
		return nil
	}
	if !members.MatchString(name) {
		return refuse("", "%q is no file of a profile's bundle", name)
	}
	return nil
}

// checkPackage holds a module to the package of its path, without parsing it:
// the package is the first thing that is no comment.
func checkPackage(name string, text []byte) error {
	base, isModule := strings.CutSuffix(name, ".rego")
	if !isModule {
		return nil
	}
	if strings.HasPrefix(base, "profiles/") {
		base = strings.SplitN(base, "/", 3)[2]
	}
	want := strings.ReplaceAll(path.Clean(base), "/", ".")
	for line := range bytes.Lines(text) {
		line = bytes.TrimSpace(line)
		if len(line) == 0 || line[0] == '#' {
			continue
		}
		if string(line) == "package "+want {
			return nil
		}
		return refuse("", "%s: the module begins with %.100q, not with package %s", name, line, want)
	}
	return refuse("", "%s: the module is empty", name)
}
