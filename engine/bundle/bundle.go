// Package bundle packs one profile with all that judges under it into a bundle
// that stock OPA loads, and reads such bundles back.
//
// What enters: the policies file system and a profile's id, or the bytes of a
// bundle and, where it must be signed, a public key. What leaves: the bytes of
// a bundle, the same for the same policies, or its files as a file system from
// which the profile opens as it did when it was packed.
//
// Refused, by the name of the member: what is no regular file, a path that
// leads outside or stands there twice, more or larger files than the limits
// allow, a file that no bundle has, a root or package that is not the bundle's
// own, data that is not what the profile says, and with a key a signature that
// is missing, wrong, or does not cover every file. Nothing is written to disk
// and no rule is evaluated here.
package bundle

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"reflect"
	"slices"
	"strings"

	"backpitch/engine/facts"
	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// The members that are not policies.
const (
	manifestFile   = ".manifest"
	signaturesFile = ".signatures.json"
	dataFile       = "data.json"
	entryFile      = "review.rego"
	schemaFile     = "schemas/facts.json"
)

// roots are the paths below data that a bundle owns.
var roots = []string{"adopted", "lib", "profile", "review", "rules"}

// format counts the layouts of a bundle.
const format = 1

// Error says why a bundle is refused or cannot be made.
type Error struct {
	Message string
	Hint    string
}

// Error implements error.
func (e *Error) Error() string { return e.Message }

// HintText returns the hint, so that a caller need not know the type.
func (e *Error) HintText() string { return e.Hint }

func refuse(hint, format string, args ...any) *Error {
	return &Error{fmt.Sprintf(format, args...), hint}
}

// Bundle is one packed profile.
type Bundle struct {
	Profile  string // id
	Revision string
	Signed   bool // it carries a signature, verified or not
	Verified bool // and the signature was found right

	files policy.Files
}

// FS returns the policies in the bundle.
func (b *Bundle) FS() fs.FS { return b.files }

// Names returns the members, sorted.
func (b *Bundle) Names() []string { return slices.Sorted(maps.Keys(b.files)) }

// File returns one member, nil where there is none. Do not change it.
func (b *Bundle) File(name string) []byte { return b.files[name] }

// manifest is what OPA reads first.
type manifest struct {
	Revision    string   `json:"revision"`
	Roots       []string `json:"roots"`
	RegoVersion int      `json:"rego_version"`
	Metadata    metadata `json:"metadata"`
}

type metadata struct {
	Backpitch about `json:"backpitch"`
}

// about says what the bundle holds.
type about struct {
	Format    int    `json:"format"`
	Profile   string `json:"profile"`
	Title     string `json:"title"`
	Edition   string `json:"edition"`
	Authority string `json:"authority"`
	Verify    string `json:"verify"`
}

// Pack makes the bundle of a profile. Its rules are compiled first, so that
// nothing broken is packed. Without a revision the contents name it.
func Pack(ctx context.Context, fsys fs.FS, id, revision string) (*Bundle, error) {
	p, err := profile.Load(fsys, id)
	if err != nil {
		return nil, err
	}
	prepared, err := policy.Prepare(ctx, fsys, p)
	if err != nil {
		return nil, err
	}
	files, err := policy.Sources(fsys, p, true)
	if err != nil {
		return nil, err
	}
	rules := prepared.Rules()
	files[dataFile] = dataOf(p, rules)
	files[entryFile] = entry(p.Rules())
	files[schemaFile] = facts.Schema()
	for name := range files {
		if err := checkName(name); err != nil {
			return nil, err
		}
		if err := checkPackage(name, files[name]); err != nil {
			return nil, err
		}
	}
	b := &Bundle{Profile: p.ID, Revision: revision, files: files}
	if revision == "" {
		b.Revision = contents(files)[:12]
	}
	files[manifestFile] = encode(manifest{b.Revision, roots, 1, metadata{about{format, p.ID, p.Title, p.Edition, p.Authority, p.Verify}}})
	return b, nil
}

// contents is a digest of names and texts, independent of how they are packed.
func contents(files policy.Files) string {
	h := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(h, "%q %d\n", name, len(files[name]))
		h.Write(files[name])
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Digest names the bytes of a bundle.
func Digest(data []byte) string {
	sum := sha256.Sum256(data)
	return "sha256:" + hex.EncodeToString(sum[:])
}

// adopted is what the entry module has to know of a rule.
type adopted struct {
	Title   string `json:"title"`
	Level   string `json:"level"`
	Section string `json:"section"`
	Basis   string `json:"basis"`
	Source  string `json:"source"`
	Needs   []need `json:"needs"`
}

// need is a fact without which a pass is no pass.
type need struct {
	Name string   `json:"name"`
	Of   string   `json:"of"` // subject or design
	Path []string `json:"path"`
}

// dataOf is what rules and the entry module read below data.
func dataOf(p *profile.Profile, rules []profile.Rule) []byte {
	list := map[string]adopted{}
	for _, r := range rules {
		a := p.Adopts[r.ID]
		row := adopted{Title: r.Title, Level: string(r.Level), Section: a.Section, Basis: string(a.Basis), Source: p.SourceTitle(a.Source), Needs: []need{}}
		for _, name := range r.Needs {
			n := need{Name: name, Of: "subject", Path: strings.Split(name, ".")}
			if len(n.Path) > 1 && (n.Path[0] == "building" || n.Path[0] == "project") {
				n.Of = "design"
			}
			row.Needs = append(row.Needs, n)
		}
		list[r.ID] = row
	}
	return encode(map[string]any{"profile": p.Data(), "adopted": list})
}

func encode(v any) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "\t")
	if err := e.Encode(v); err != nil {
		panic("bundle: " + err.Error()) // plain maps, words and numbers
	}
	return b.Bytes()
}

// Agrees checks that what the bundle tells stock OPA of the profile and its
// rules is what they say themselves.
func (b *Bundle) Agrees(p *profile.Profile, rules []profile.Rule) error {
	if !bytes.Equal(b.files[dataFile], dataOf(p, rules)) {
		return refuse("pack the profile again", "%s is not what the profile and its rules say", dataFile)
	}
	return nil
}

// sameProfile checks that data.profile is what the profile's own documents say.
func (b *Bundle) sameProfile(p *profile.Profile) error {
	decode := func(data []byte) (any, error) {
		var v struct {
			Profile any `json:"profile"`
		}
		d := json.NewDecoder(bytes.NewReader(data))
		d.UseNumber()
		err := d.Decode(&v)
		return v.Profile, err
	}
	got, err := decode(b.files[dataFile])
	if err != nil {
		return refuse("", "%s: %s", dataFile, err)
	}
	want, err := decode(dataOf(p, nil))
	if err != nil {
		panic("bundle: " + err.Error())
	}
	if !reflect.DeepEqual(got, want) {
		return refuse("pack the profile again", "%s is not what the profile's own tables say", dataFile)
	}
	return nil
}
