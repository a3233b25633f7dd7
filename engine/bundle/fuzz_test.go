package bundle_test

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"io/fs"
	"strings"
	"testing"

	"backpitch/engine/bundle"
	"backpitch/engine/profile"
)

var fuzzLimits = bundle.Limits{Packed: 1 << 20, Total: 4 << 20, Member: 1 << 20, Files: 500, Path: 200}

// opens opens a bundle that must not bring anything down; what is opened holds
// nothing but files at paths inside it, and a profile that loads.
func opens(t *testing.T, data, key []byte) *bundle.Bundle {
	b, err := bundle.Open(data, key, fuzzLimits)
	if err != nil {
		return nil
	}
	for _, name := range b.Names() {
		if !fs.ValidPath(name) || strings.ContainsAny(name, `\:`) {
			t.Errorf("the bundle has a member %q", name)
		}
	}
	if _, err := profile.Load(b.FS(), b.Profile); err != nil {
		t.Errorf("it was opened, and its profile does not load: %v", err)
	}
	return b
}

// stored wraps bytes in gzip as they are, so that changes reach the archive.
func stored(t testing.TB, data []byte) []byte {
	t.Helper()
	var out bytes.Buffer
	zip, err := gzip.NewWriterLevel(&out, gzip.NoCompression)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := zip.Write(data); err != nil {
		t.Fatal(err)
	}
	if err := zip.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func rawTar(t testing.TB, list []member) []byte {
	t.Helper()
	var out bytes.Buffer
	w := tar.NewWriter(&out)
	for _, m := range list {
		h := tar.Header{Typeflag: m.Typeflag, Name: m.Name, Linkname: m.Linkname, Mode: 0o644, Size: int64(len(m.data))}
		if err := w.WriteHeader(&h); err != nil {
			t.Skip(err) // a name that no archive can hold
		}
		if _, err := w.Write(m.data); err != nil {
			t.Skip(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// FuzzArchive changes the bytes of a small archive.
func FuzzArchive(f *testing.F) {
	f.Add(rawTar(f, []member{file("lib/x.rego", "package lib.x\n"), file(".manifest", `{"roots":["lib"]}`)}))
	f.Add(rawTar(f, []member{file("../x", "y")}))
	f.Add(rawTar(f, []member{{tar.Header{Typeflag: tar.TypeSymlink, Name: "lib/x.rego", Linkname: "/etc/passwd"}, nil}}))
	f.Add(rawTar(f, []member{file(strings.Repeat("long/", 40)+"x", "y")}))
	_, public := keyPair(f, "P-256")
	f.Fuzz(func(t *testing.T, data []byte) {
		if opens(t, stored(t, data), nil) != nil {
			t.Error("a bundle without a profile was opened")
		}
		opens(t, data, public)
	})
}

// FuzzMember puts one member of any name, kind and text into a sound and signed
// bundle, in place of one or beside all.
func FuzzMember(f *testing.F) {
	private, public := keyPair(f, "P-256")
	good := unpacked(f, signed(f, packed(f, "wisconsin-sump"), private, ""))
	f.Add("lib/x.rego", byte(tar.TypeReg), []byte("package lib.x\n"), uint8(255))
	f.Add("/../x", byte(tar.TypeReg), []byte("x"), uint8(255))
	f.Add("lib/x.rego", byte(tar.TypeSymlink), []byte(nil), uint8(1))
	for i, m := range good {
		if len(m.data) < 2000 {
			f.Add(m.Name, m.Typeflag, m.data, uint8(i))
		}
	}
	f.Fuzz(func(t *testing.T, name string, kind byte, text []byte, at uint8) {
		m := member{tar.Header{Typeflag: kind, Name: name}, text}
		if kind != tar.TypeReg {
			m.data = nil
		}
		list := append([]member{}, good...)
		same := false
		if int(at) < len(list) {
			same = list[at].Name == name && bytes.Equal(list[at].data, m.data) && kind == tar.TypeReg
			list[at] = m
		} else {
			list = append(list, m)
		}
		data := stored(t, rawTar(t, list))
		opens(t, data, nil)
		if b := opens(t, data, public); b != nil && !same && !structured(name) {
			t.Errorf("a bundle with another %q has a right signature", name)
		}
	})
}

// structured are the members of which a signature covers what they say, not
// how it is written.
func structured(name string) bool {
	name = strings.TrimPrefix(name, "/")
	return name == ".manifest" || name == "data.json" || name == ".signatures.json"
}
