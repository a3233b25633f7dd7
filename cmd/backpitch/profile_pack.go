package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine/bundle"
)

func profilePackCommand() *cli.Command {
	return &cli.Command{
		Name:      "pack",
		Usage:     "pack a profile with the rules it adopts into a bundle that stock OPA loads",
		ArgsUsage: "ID",
		Description: "The same policies give the same bytes; the digest is printed.\n" +
			"OPA's own tools run the bundle: opa test FILE; opa eval -b FILE -i FACTS data.review.outcome,\n" +
			"with the facts that backpitch facts DESIGN prints.",
		Flags: []cli.Flag{
			policiesFlag(),
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the bundle to `FILE`, whole or not at all"},
			&cli.StringFlag{Name: "revision", Usage: "call this state of the policies `REVISION`; without, a digest of the contents"},
		},
		Action: profilePack,
	}
}

func profileSignCommand() *cli.Command {
	return &cli.Command{
		Name:      "sign",
		Usage:     "sign a bundle, in place or into another file",
		ArgsUsage: "FILE",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "key", Usage: "sign with the private key in `FILE`, in PEM"},
			&cli.StringFlag{Name: "alg", Usage: "sign with `ALGORITHM`: " + strings.Join(bundle.Algorithms, ", ") + "; without, what the key is for"},
			&cli.StringFlag{Name: "output", Aliases: []string{"o"}, Usage: "write the signed bundle to `FILE`, whole or not at all"},
		},
		Action: profileSign,
	}
}

func profileVerifyCommand() *cli.Command {
	return &cli.Command{
		Name:      "verify",
		Usage:     "check the signature of a bundle and that it holds one whole profile",
		ArgsUsage: "FILE",
		Flags:     []cli.Flag{&cli.StringFlag{Name: "key", Usage: "check with the public key in `FILE`, in PEM"}},
		Action:    profileVerify,
	}
}

// oneName returns the one name that a command takes; flags may stand behind it.
func oneName(c *cli.Context, what string) (string, error) {
	names := c.Args().Slice()
	if len(names) != 1 {
		return "", usageError("backpitch profile "+c.Command.Name+" "+c.Command.ArgsUsage, "name one %s", what)
	}
	return names[0], nil
}

func profilePack(c *cli.Context) error {
	id, err := oneName(c, "profile")
	if err != nil {
		return err
	}
	if toStdout(c.String("output")) {
		return usageError("--output "+id+".tar.gz", "say where the bundle goes")
	}
	fsys, err := policiesFS(c)
	if err != nil {
		return err
	}
	b, err := bundle.Pack(c.Context, fsys, id, c.String("revision"))
	if err != nil {
		return policyError(err)
	}
	return writeBundle(c, b, c.String("output"))
}

func profileSign(c *cli.Context) error {
	file, err := oneName(c, "bundle")
	if err != nil {
		return err
	}
	if c.String("key") == "" {
		return usageError("--key PRIVATE.pem", "a signature needs a private key")
	}
	key, err := readKey(c, c.String("key"))
	if err != nil {
		return err
	}
	b, _, err := readBundle(c, file, nil)
	if err != nil {
		return err
	}
	if err := b.Sign(key, c.String("alg")); err != nil {
		return bundleError(c.String("key"), err)
	}
	out := c.String("output")
	if out == "" {
		out = file
	}
	return writeBundle(c, b, out)
}

func profileVerify(c *cli.Context) error {
	file, err := oneName(c, "bundle")
	if err != nil {
		return err
	}
	if c.String("key") == "" {
		return usageError("--key PUBLIC.pem", "a signature is checked with a public key")
	}
	key, err := readKey(c, c.String("key"))
	if err != nil {
		return err
	}
	b, data, err := readBundle(c, file, key)
	if err != nil {
		return err
	}
	if err := agrees(c.Context, b); err != nil {
		return bundleError(file, err)
	}
	_, err = fmt.Fprintf(c.App.Writer, "%s: the signature is right and covers every file\n", file)
	if err == nil {
		err = describeBundle(c.App.Writer, b, data)
	}
	return stdoutFailed(err)
}

func writeBundle(c *cli.Context, b *bundle.Bundle, file string) error {
	var packed bytes.Buffer
	if err := b.Write(&packed); err != nil {
		return err
	}
	err := writeWhole(file, func(w io.Writer) error {
		_, err := w.Write(packed.Bytes())
		return err
	})
	if err != nil {
		return usageError("", "writing %s: %s", file, fileReason(err))
	}
	_, err = fmt.Fprintf(c.App.Writer, "%s\n", file)
	if err == nil {
		err = describeBundle(c.App.Writer, b, packed.Bytes())
	}
	return stdoutFailed(err)
}

func describeBundle(w io.Writer, b *bundle.Bundle, data []byte) error {
	signed := "no"
	if b.Signed {
		signed = "yes"
	}
	_, err := fmt.Fprintf(w, "  profile   %s\n  revision  %s\n  files     %d\n  signed    %s\n  digest    %s\n",
		b.Profile, b.Revision, len(b.Names()), signed, bundle.Digest(data))
	return err
}

func stdoutFailed(err error) error {
	if err != nil {
		return stdoutError(err)
	}
	return nil
}

// readKey reads a key; no file of keys is large.
func readKey(c *cli.Context, file string) ([]byte, error) {
	data, err := input{name: file}.read(c.Context, nil, 1<<20)
	if err != nil {
		return nil, usageError("", "reading the key %s: %s", file, fileReason(err))
	}
	return data, nil
}

func readBundle(c *cli.Context, file string, publicKey []byte) (*bundle.Bundle, []byte, error) {
	limits := bundle.DefaultLimits()
	data, err := input{name: file}.read(c.Context, nil, limits.Packed)
	if err != nil {
		return nil, nil, usageError("", "reading the bundle %s: %s", file, fileReason(err))
	}
	b, err := bundle.Open(data, publicKey, limits)
	if err != nil {
		return nil, nil, bundleError(file, err)
	}
	return b, data, nil
}

// bundleError names the file before what is wrong with it.
func bundleError(file string, err error) error {
	hint := ""
	var h interface{ HintText() string }
	if errors.As(err, &h) {
		hint = h.HintText()
	}
	return usageError(hint, "%s: %s", file, err)
}
