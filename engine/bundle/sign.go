package bundle

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/ed25519"
	"crypto/rsa"
	"crypto/x509"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"encoding/pem"
	"errors"
	"maps"
	"slices"
	"strings"

	opa "github.com/open-policy-agent/opa/v1/bundle"
)

// keyID is the name under which OPA looks for a key that was given no name.
const keyID = "default"

// Algorithms are the signatures that can be made: with a key of one's own and
// a public key to check them, never with a shared secret.
var Algorithms = []string{"RS256", "RS384", "RS512", "PS256", "PS384", "PS512", "ES256", "ES384", "ES512", "EdDSA"}

// Sign signs every file of the bundle with a private key in PEM, in the way of
// OPA. Without an algorithm the key decides. A signature that is there already
// is replaced.
func (b *Bundle) Sign(privateKey []byte, alg string) error {
	key, fits, err := readKey(privateKey, "PRIVATE KEY")
	if err != nil {
		return err
	}
	if alg == "" {
		alg = fits[0]
	}
	if !slices.Contains(fits, alg) {
		return refuse("this key signs with "+strings.Join(fits, ", "), "the key does not sign with %q", alg)
	}
	files := maps.Clone(b.files)
	delete(files, signaturesFile)
	b.files = files
	list := make([]opa.FileInfo, 0, len(files))
	for _, name := range b.Names() {
		sum, err := hashOf(name, files[name])
		if err != nil {
			return err
		}
		list = append(list, opa.NewFile(name, hex.EncodeToString(sum), opa.SHA256.String()))
	}
	token, err := opa.GenerateSignedToken(list, opa.NewSigningConfig(key, alg, ""), keyID)
	if err != nil {
		return refuse("", "signing: %s", err)
	}
	files[signaturesFile] = encode(map[string][]string{"signatures": {token}})
	b.Signed, b.Verified = true, false
	return nil
}

// hashOf is the digest of a member: of JSON that OPA reads, whatever its
// spaces; of anything else, its bytes.
func hashOf(name string, data []byte) ([]byte, error) {
	hasher, err := opa.NewSignatureHasher(opa.SHA256)
	if err != nil {
		return nil, err
	}
	var value any = data
	if opa.IsStructuredDoc(name) {
		d := json.NewDecoder(bytes.NewReader(data))
		d.UseNumber()
		if err := d.Decode(&value); err != nil {
			return nil, refuse("", "%s: %s", name, err)
		}
	}
	return hasher.HashFile(value)
}

// verify checks the signature, that it covers every file, and that no file is
// gone.
func (b *Bundle) verify(publicKey []byte) error {
	key, fits, err := readKey(publicKey, "PUBLIC KEY")
	if err != nil {
		return err
	}
	text := b.files[signaturesFile]
	if text == nil {
		return refuse("sign it with profile sign, or do not ask for a signature", "the bundle is not signed")
	}
	var config opa.SignaturesConfig
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&config); err != nil {
		return refuse("", "%s: %s", signaturesFile, err)
	}
	if config.Plugin != "" || len(config.Signatures) != 1 {
		return refuse("", "%s holds no single signature", signaturesFile)
	}
	alg := claimedAlgorithm(config.Signatures[0])
	if !slices.Contains(fits, alg) {
		return refuse("", "the signature is made with %.20q, which is not for this key", alg)
	}
	keys := map[string]*opa.KeyConfig{keyID: {Key: key, Algorithm: alg}}
	covered, err := opa.VerifyBundleSignature(config, opa.NewVerificationConfig(keys, keyID, "", nil))
	if err != nil {
		return refuse("the bundle was changed, or signed with another key", "the signature is wrong: %s", err)
	}
	for _, name := range b.Names() {
		if name == signaturesFile {
			continue
		}
		if info, ok := covered[name]; ok && info.Algorithm != opa.SHA256.String() {
			return refuse("sign it again with profile sign", "the signature knows %q by %.20q, not by %s", name, info.Algorithm, opa.SHA256)
		}
		if err := opa.VerifyBundleFile(name, *bytes.NewBuffer(b.files[name]), covered); err != nil {
			return refuse("the bundle was changed after it was signed", "the signature does not fit: %s", err)
		}
	}
	if len(covered) > 0 {
		return refuse("the bundle was changed after it was signed", "the signature names %q, which the bundle lacks", slices.Sorted(maps.Keys(covered))[0])
	}
	return nil
}

// claimedAlgorithm is what the token says of itself; whether it may is for the
// key to decide.
func claimedAlgorithm(token string) string {
	head, _, _ := strings.Cut(token, ".")
	text, err := base64.RawURLEncoding.DecodeString(head)
	var header struct {
		Alg string `json:"alg"`
	}
	if err != nil || json.Unmarshal(text, &header) != nil {
		return ""
	}
	return header.Alg
}

// readKey finds the key in a PEM file, and what it can sign or check, the usual
// algorithm first.
func readKey(text []byte, kind string) (key string, fits []string, err error) {
	var block *pem.Block
	found := ""
	for rest := text; ; {
		if block, rest = pem.Decode(rest); block == nil {
			break
		}
		if strings.HasSuffix(block.Type, kind) || kind == "PUBLIC KEY" && block.Type == "CERTIFICATE" {
			break
		}
		found = strings.ToLower(block.Type)
	}
	switch {
	case block == nil && found != "":
		return "", nil, refuse("give the "+strings.ToLower(kind), "the file holds a key of kind %.40q", found)
	case block == nil:
		return "", nil, refuse("a key is text that begins with -----BEGIN", "the key is not in PEM")
	}
	parsed, err := parseKey(block)
	if err != nil {
		return "", nil, refuse("", "the key cannot be read: %s", err)
	}
	fits, err = algorithmsOf(parsed)
	return string(pem.EncodeToMemory(block)), fits, err
}

func algorithmsOf(key any) ([]string, error) {
	switch key := key.(type) {
	case *rsa.PrivateKey:
		return rsaFits(key.N.BitLen())
	case *rsa.PublicKey:
		return rsaFits(key.N.BitLen())
	case *ecdsa.PrivateKey:
		return curve(key.Curve.Params().BitSize)
	case *ecdsa.PublicKey:
		return curve(key.Curve.Params().BitSize)
	case ed25519.PrivateKey, ed25519.PublicKey:
		return []string{"EdDSA"}, nil
	}
	return nil, refuse("use RSA, ECDSA or Ed25519", "a key of this kind does not sign bundles")
}

func rsaFits(bits int) ([]string, error) {
	if bits < 2048 {
		return nil, refuse("", "an RSA key of %d bits is too short; 2048 or more are asked", bits)
	}
	return Algorithms[:6], nil
}

func curve(bits int) ([]string, error) {
	switch bits {
	case 256:
		return []string{"ES256"}, nil
	case 384:
		return []string{"ES384"}, nil
	case 521:
		return []string{"ES512"}, nil
	}
	return nil, refuse("use P-256, P-384 or P-521", "a curve of %d bits does not sign bundles", bits)
}

func parseKey(block *pem.Block) (any, error) {
	switch block.Type {
	case "RSA PRIVATE KEY":
		return x509.ParsePKCS1PrivateKey(block.Bytes)
	case "EC PRIVATE KEY":
		return x509.ParseECPrivateKey(block.Bytes)
	case "PRIVATE KEY":
		return x509.ParsePKCS8PrivateKey(block.Bytes)
	case "RSA PUBLIC KEY":
		return x509.ParsePKCS1PublicKey(block.Bytes)
	case "PUBLIC KEY":
		return x509.ParsePKIXPublicKey(block.Bytes)
	case "CERTIFICATE":
		cert, err := x509.ParseCertificate(block.Bytes)
		if err != nil {
			return nil, err
		}
		return cert.PublicKey, nil
	}
	return nil, errors.New("its kind is not known")
}
