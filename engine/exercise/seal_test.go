package exercise

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

const secret = "clay slip and glaze"

// TestSealedKey holds that a key opens with its passphrase, only with it, and
// that nothing of it can be read without.
func TestSealedKey(t *testing.T) {
	e := exercise(t, studio, Order{Faults: 3, Missing: 1, Seed: 4})
	sealed, err := Seal(e.Key, secret) // once with the work that it takes
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Open("key.age", sealed, secret); err != nil {
		t.Fatal(err)
	}
	if sealed, err = seal(e.Key, secret, 10); err != nil {
		t.Fatal(err)
	}
	opened, err := Open("key.age", sealed, secret)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(&e.Key, opened); diff != "" {
		t.Errorf("the key changed on the way:\n%s", diff)
	}
	for _, f := range e.Key.Faults {
		for _, word := range []string{f.Findings[0].Rule, f.Findings[0].Subject, f.Why, e.Key.Exercise} {
			if bytes.Contains(sealed, []byte(word)) {
				t.Errorf("the sealed key shows %q", word)
			}
		}
	}
	damaged := bytes.Replace(sealed, []byte("\n-----END"), []byte("\nAAAA\n-----END"), 1)
	for _, c := range []struct {
		name, passphrase, want string
		sealed                 []byte
	}{
		{"another passphrase", "clay slip and glazf", "the passphrase does not open this key", sealed},
		{"an empty passphrase", "", "the passphrase is empty", sealed},
		{"a damaged key", secret, "key.age is", damaged},
		{"half a key", secret, "key.age is", sealed[:len(sealed)/2]},
		{"what is no key", secret, "is no sealed key", []byte("{}")},
		{"nothing", secret, "is no sealed key", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			k, err := Open("key.age", c.sealed, c.passphrase)
			wantError(t, err, c.want)
			if k != nil {
				t.Error("a key was returned")
			}
		})
	}
}

func TestShortPassphraseIsRefused(t *testing.T) {
	_, err := Seal(Key{}, "1234567")
	wantError(t, err, "shorter than 8")
}

// TestSealedContentIsChecked holds that what was sealed by other hands must
// keep to the schema.
func TestSealedContentIsChecked(t *testing.T) {
	sealed, err := seal(Key{Format: "another format"}, secret, 10)
	if err != nil {
		t.Fatal(err)
	}
	_, err = Open("key.age", sealed, secret)
	wantError(t, err, "key.age: opened, line ")
}

func TestKeyBelongsToItsFile(t *testing.T) {
	e := exercise(t, studio, Order{Faults: 2, Seed: 9})
	if Digest(e.Design) != e.Key.Exercise {
		t.Error("the key does not name the digest of the student's file")
	}
	if Digest(bytes.Replace(e.Design, []byte("in"), []byte("In"), 1)) == e.Key.Exercise || strings.Contains(string(e.Design), e.Key.Exercise) {
		t.Error("another file has the same digest, or the file holds it")
	}
}
