package bundle_test

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"crypto"
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/rsa"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"io"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	opa "github.com/open-policy-agent/opa/v1/bundle"

	"backpitch/engine"
	"backpitch/engine/bundle"
	"backpitch/policies"
)

// keyPair makes a key of a kind, both halves in PEM.
func keyPair(t testing.TB, kind string) (private, public []byte) {
	t.Helper()
	var key crypto.Signer
	var err error
	switch kind {
	case "RSA":
		key, err = rsa.GenerateKey(rand.Reader, 2048)
	case "short RSA":
		key, err = rsa.GenerateKey(rand.Reader, 1024)
	case "P-256":
		key, err = ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	case "P-384":
		key, err = ecdsa.GenerateKey(elliptic.P384(), rand.Reader)
	case "Ed25519":
		_, key, err = ed25519.GenerateKey(rand.Reader)
	}
	if err != nil {
		t.Fatal(err)
	}
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		t.Fatal(err)
	}
	open, err := x509.MarshalPKIXPublicKey(key.Public())
	if err != nil {
		t.Fatal(err)
	}
	return pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: secret}), pem.EncodeToMemory(&pem.Block{Type: "PUBLIC KEY", Bytes: open})
}

func open(data, key []byte) (*bundle.Bundle, error) {
	return bundle.Open(data, key, bundle.DefaultLimits())
}

func signed(t testing.TB, data, private []byte, alg string) []byte {
	t.Helper()
	b, err := open(data, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Sign(private, alg); err != nil {
		t.Fatal(err)
	}
	return written(t, b)
}

func TestPackGivesTheSameBytesAndOpensAgain(t *testing.T) {
	first := packed(t, "chicago")
	if !bytes.Equal(first, packed(t, "chicago")) {
		t.Error("packed twice, the bytes differ")
	}
	b, err := open(first, nil)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first, written(t, b)) {
		t.Error("opened and written again, the bytes differ")
	}
	if b.Profile != "chicago" || len(b.Revision) != 12 || b.Signed || b.Verified {
		t.Errorf("it is %q, revision %q, signed %v", b.Profile, b.Revision, b.Signed)
	}
	eng := engine.New(engine.Options{Policies: b.FS()})
	rules, err := eng.Rules("chicago")
	if err != nil {
		t.Fatal(err)
	}
	p, err := eng.Profile("chicago")
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Agrees(p, rules); err != nil {
		t.Error(err)
	}
	if err := b.Agrees(p, rules[1:]); err == nil {
		t.Error("a bundle agrees with other rules")
	}
	if err := fstest.TestFS(b.FS(), "lib/judge.rego", "profiles/chicago/profile.json"); err != nil {
		t.Error(err)
	}
	named, err := bundle.Pack(t.Context(), policies.FS(), "chicago", "2031-a")
	if err != nil || named.Revision != "2031-a" {
		t.Errorf("revision %q, %v", named.Revision, err)
	}
}

func TestSignatures(t *testing.T) {
	plain := packed(t, "wisconsin-sump")
	for _, tt := range []struct{ kind, alg string }{
		{"RSA", ""}, {"RSA", "RS512"}, {"RSA", "PS256"}, {"P-256", ""}, {"P-384", "ES384"}, {"Ed25519", ""},
	} {
		t.Run(tt.kind+" "+tt.alg, func(t *testing.T) {
			private, public := keyPair(t, tt.kind)
			data := signed(t, plain, private, tt.alg)
			b, err := open(data, public)
			if err != nil || !b.Signed || !b.Verified {
				t.Fatalf("Open = %v", err)
			}
			// OPA's own reader finds the signature right, too.
			alg := tt.alg
			if alg == "" {
				alg = map[string]string{"RSA": "RS256", "P-256": "ES256", "Ed25519": "EdDSA"}[tt.kind]
			}
			config := opa.NewVerificationConfig(map[string]*opa.KeyConfig{"default": {Key: string(public), Algorithm: alg}}, "default", "", nil)
			if _, err := opa.NewReader(bytes.NewReader(data)).WithBundleVerificationConfig(config).Read(); err != nil {
				t.Errorf("OPA's reader: %v", err)
			}
			_, other := keyPair(t, tt.kind)
			refused(t, data, other, "the signature is wrong")
		})
	}
	private, public := keyPair(t, "P-256")
	refused(t, plain, public, "the bundle is not signed")
	rsaPrivate, rsaPublic := keyPair(t, "RSA")
	refused(t, signed(t, plain, private, ""), rsaPublic, `made with "ES256", which is not for this key`)
	refused(t, signed(t, plain, private, ""), private, "the file holds a key of kind")
	refused(t, plain, []byte("secret"), "not in PEM")
	if _, short := keyPair(t, "short RSA"); true {
		refused(t, plain, short, "1024 bits is too short")
	}
	b, err := open(plain, nil)
	if err != nil {
		t.Fatal(err)
	}
	for alg, want := range map[string]string{"HS256": "does not sign", "none": "does not sign", "ES256": "does not sign"} {
		if err := b.Sign(rsaPrivate, alg); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Sign with %s = %v", alg, err)
		}
	}
}

func refused(t *testing.T, data, key []byte, want string) {
	t.Helper()
	_, err := open(data, key)
	if err == nil || !strings.Contains(err.Error(), want) {
		t.Errorf("Open = %v, want %q", err, want)
	}
}

// member is one entry of an archive that a test makes.
type member struct {
	tar.Header
	data []byte
}

func unpacked(t testing.TB, data []byte) []member {
	t.Helper()
	zip, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	var out []member
	for in := tar.NewReader(zip); ; {
		h, err := in.Next()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(in)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, member{*h, text})
	}
}

func repacked(t testing.TB, list []member) []byte {
	t.Helper()
	var out bytes.Buffer
	zip := gzip.NewWriter(&out)
	w := tar.NewWriter(zip)
	for _, m := range list {
		h := tar.Header{Typeflag: m.Typeflag, Name: m.Name, Linkname: m.Linkname, Mode: 0o644, Size: int64(len(m.data))}
		if err := w.WriteHeader(&h); err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(m.data); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(w.Close(), zip.Close()); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func file(name, text string) member {
	return member{tar.Header{Typeflag: tar.TypeReg, Name: name}, []byte(text)}
}

// changed replaces text in one member.
func changed(list []member, name, from, to string) []member {
	out := make([]member, len(list))
	copy(out, list)
	for i, m := range out {
		if m.Name == name {
			if !bytes.Contains(m.data, []byte(from)) {
				panic(name + " has no " + from)
			}
			out[i].data = bytes.Replace(m.data, []byte(from), []byte(to), 1)
		}
	}
	return out
}

// TestForeignBundlesAreRefused: whatever is not a bundle that was packed here
// is refused by name, signed or not.
func TestForeignBundlesAreRefused(t *testing.T) {
	good := unpacked(t, packed(t, "chicago"))
	link := member{tar.Header{Typeflag: tar.TypeSymlink, Name: "lib/link.rego", Linkname: "/etc/passwd"}, nil}
	hard := member{tar.Header{Typeflag: tar.TypeLink, Name: "lib/link.rego", Linkname: "/etc/passwd"}, nil}
	plus := func(m ...member) []member { return append(append([]member{}, good...), m...) }
	for name, tt := range map[string]struct {
		list []member
		want string
	}{
		"a path upwards":       {plus(file("../../etc/passwd", "x")), "leads outside"},
		"a path in the middle": {plus(file("lib/../../x.rego", "x")), "leads outside"},
		"an absolute path":     {plus(file("//etc/passwd", "x")), "leads outside"},
		"a path of Windows":    {plus(file(`C:\x.rego`, "x")), "leads outside"},
		"a symbolic link":      {plus(link), "a symbolic link"},
		"a hard link":          {plus(hard), "a hard link"},
		"a folder":             {plus(member{tar.Header{Typeflag: tar.TypeDir, Name: "lib/"}, nil}), "a folder"},
		"a name twice":         {plus(file("lib/judge.rego", "package lib.judge")), "twice"},
		"a long name":          {plus(file("lib/"+strings.Repeat("x", 250)+".rego", "x")), "longer than"},
		"a huge member":        {plus(file("lib/x.rego", strings.Repeat("#", 5<<20))), "are allowed"},
		"other data":           {plus(file("data.yaml", "x: 1")), "no file of a profile's bundle"},
		"data below":           {plus(file("lib/data.json", "{}")), "no file of a profile's bundle"},
		"a patch":              {plus(file("patch.json", "{}")), "no file of a profile's bundle"},
		"compiled rules":       {plus(file("policy.wasm", "x")), "no file of a profile's bundle"},
		"a foreign package":    {plus(file("lib/x.rego", "# a helper\npackage rules.drain.too_flat\n")), "begins with"},
		"no package":           {plus(file("lib/x.rego", "# nothing\n")), "is empty"},
		"a rule of no profile": {plus(file("rules/drain/pink.rego", "package rules.drain.pink\n")), "not used"},
		"a profile beside it":  {plus(file("profiles/x/profile.json", "{}")), "not used"},
		"a foreign root":       {changed(good, ".manifest", `"adopted",`, `"adopted", "system",`), `foreign root "system"`},
		"every root":           {changed(good, ".manifest", `"adopted",`, `"",`), `foreign root ""`},
		"a root too few":       {changed(good, ".manifest", `"adopted",`, ``), `does not own its root "adopted"`},
		"wasm in the manifest": {changed(good, ".manifest", `"roots"`, `"wasm": [], "roots"`), `unknown field "wasm"`},
		"another format":       {changed(good, ".manifest", `"format": 1`, `"format": 2`), "format 2"},
		"a profile outside":    {changed(good, ".manifest", `"chicago"`, `"../chicago"`), "names no profile"},
		"other figures":        {changed(good, "data.json", `20833`, `20834`), "not what the profile's own tables say"},
		"another entry":        {changed(good, "review.rego", `"pass"`, `"fail"`), "not the module that asks"},
		"no manifest":          {good[1:], "no .manifest"},
	} {
		t.Run(name, func(t *testing.T) { refused(t, repacked(t, tt.list), nil, tt.want) })
	}
	for name, data := range map[string][]byte{"nothing": nil, "text": []byte("no bundle"), "half": packed(t, "chicago")[:5000]} {
		if _, err := open(data, nil); err == nil {
			t.Errorf("%s was opened", name)
		}
	}
	refused(t, append(packed(t, "chicago"), packed(t, "chicago")...), nil, "behind the end")
}

// TestChangesAfterSigningAreRefused: each member is covered.
func TestChangesAfterSigningAreRefused(t *testing.T) {
	private, public := keyPair(t, "P-256")
	good := unpacked(t, signed(t, packed(t, "wisconsin-sump"), private, ""))
	refused(t, repacked(t, append(good, file("lib/extra.rego", "package lib.extra\n"))), public, "not included in bundle signature")
	for i, m := range good {
		if m.Name == ".signatures.json" {
			continue
		}
		list := append([]member{}, good...)
		text := append([]byte{}, m.data...)
		switch at := bytes.IndexAny(text, "0123456789"); {
		case at >= 0:
			text[at] = '0' + (text[at]-'0'+1)%10
		default:
			text = append(text, '#')
		}
		list[i].data = text
		if _, err := open(repacked(t, list), public); err == nil || !strings.Contains(err.Error(), "signature") {
			t.Errorf("%s changed: Open = %v", m.Name, err)
		}
		gone := append(append([]member{}, good[:i]...), good[i+1:]...)
		if _, err := open(repacked(t, gone), public); err == nil || !strings.Contains(err.Error(), "signature") {
			t.Errorf("%s gone: Open = %v", m.Name, err)
		}
	}
}

// TestBombsAreRefused: what unpacks to far more than it weighs.
func TestBombsAreRefused(t *testing.T) {
	var out bytes.Buffer
	zip := gzip.NewWriter(&out)
	w := tar.NewWriter(zip)
	block := make([]byte, 4<<20)
	for i := range 20 {
		if err := w.WriteHeader(&tar.Header{Typeflag: tar.TypeReg, Name: "lib/" + string(rune('a'+i)) + ".rego", Size: int64(len(block))}); err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(block); err != nil {
			t.Fatal(err)
		}
	}
	if err := errors.Join(w.Close(), zip.Close()); err != nil {
		t.Fatal(err)
	}
	refused(t, out.Bytes(), nil, "unpacks to more than")

	many := make([]member, 5000)
	for i := range many {
		many[i] = file("lib/x"+strings.Repeat("y", i%150)+strings.Repeat("z", i/150)+".rego", "")
	}
	refused(t, repacked(t, many), nil, "more than 4000 files")

	// A header that promises more than there is.
	var short bytes.Buffer
	zip = gzip.NewWriter(&short)
	w = tar.NewWriter(zip)
	if err := w.WriteHeader(&tar.Header{Typeflag: tar.TypeReg, Name: "lib/x.rego", Size: math.MaxInt64 / 2, Format: tar.FormatPAX}); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(w.Flush(), zip.Close()); err == nil {
		t.Fatal("an archive that breaks off was written whole")
	}
	if err := zip.Close(); err != nil {
		t.Fatal(err)
	}
	refused(t, short.Bytes(), nil, "are allowed")
	refused(t, make([]byte, 9<<20), nil, "more than 8388608 bytes")
}
