package main

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"encoding/pem"
	"os"

	"github.com/rogpeppe/go-internal/testscript"
)

// makeKeys writes a pair of keys: make-keys PRIVATE.pem PUBLIC.pem.
func makeKeys(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: make-keys PRIVATE.pem PUBLIC.pem")
	}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	ts.Check(err)
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	ts.Check(err)
	open, err := x509.MarshalPKIXPublicKey(key.Public())
	ts.Check(err)
	for i, block := range []*pem.Block{{Type: "PRIVATE KEY", Bytes: secret}, {Type: "PUBLIC KEY", Bytes: open}} {
		ts.Check(os.WriteFile(ts.MkAbs(args[i]), pem.EncodeToMemory(block), 0o600))
	}
}
