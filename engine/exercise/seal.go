package exercise

import (
	"bytes"
	"errors"
	"io"

	"filippo.io/age"
	"filippo.io/age/armor"
)

// LeastPassphrase is the shortest passphrase a key is sealed with, in bytes.
const LeastPassphrase = 8

// work is the scrypt work factor of a sealed key, as a power of two: a second
// or so for each guess. No key that asks for more than mostWork is opened.
const (
	work     = 18
	mostWork = 20
)

// Seal encrypts a key with a passphrase. The result is an age file in its text
// form, which any program that reads age files opens with the passphrase. It
// is another text each time, as good encryption is.
func Seal(k Key, passphrase string) ([]byte, error) { return seal(k, passphrase, work) }

func seal(k Key, passphrase string, work int) ([]byte, error) {
	if len(passphrase) < LeastPassphrase {
		return nil, fail("a few words in a row are easy to keep and hard to guess", "the passphrase is shorter than %d characters", LeastPassphrase)
	}
	text, err := k.Encode()
	if err != nil {
		return nil, err
	}
	to, err := age.NewScryptRecipient(passphrase)
	if err != nil {
		return nil, err
	}
	to.SetWorkFactor(work)
	var out bytes.Buffer
	letters := armor.NewWriter(&out)
	w, err := age.Encrypt(letters, to)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(text); err != nil {
		return nil, err
	}
	if err := errors.Join(w.Close(), letters.Close()); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// Open decrypts a sealed key and reads it; name is what errors call it.
func Open(name string, sealed []byte, passphrase string) (*Key, error) {
	if len(passphrase) == 0 {
		return nil, fail("", "%s: the passphrase is empty", name)
	}
	who, err := age.NewScryptIdentity(passphrase)
	if err != nil {
		return nil, err
	}
	who.SetMaxWorkFactor(mostWork)
	r, err := age.Decrypt(armor.NewReader(bytes.NewReader(sealed)), who)
	if err != nil {
		if _, wrong := errors.AsType[*age.NoIdentityMatchError](err); wrong {
			return nil, fail("the key opens only with the passphrase it was sealed with", "%s: the passphrase does not open this key", name)
		}
		return nil, fail("a sealed key is the key.age that exercise new wrote", "%s is no sealed key, or it is damaged", name)
	}
	text, err := io.ReadAll(io.LimitReader(r, int64(keyLimits.Bytes)+1))
	if err != nil {
		return nil, fail("copy it again from where it was made", "%s is damaged", name)
	}
	k, problems := ReadKey(name, text)
	if len(problems) > 0 {
		p := problems[0]
		return nil, fail(p.Hint, "%s: opened, line %d: %s", name, p.Place.Line, p.Message)
	}
	return k, nil
}
