package main

import (
	"fmt"
	"os"
	"strings"

	"github.com/urfave/cli/v2"
	"golang.org/x/term"
)

// passphraseEnv names the environment variable with the passphrase of a key. A
// command line is seen by every process, so there is no flag for it.
const passphraseEnv = "BACKPITCH_PASSPHRASE"

// passphrase comes from the file of --passphrase-file, from the environment or
// from a prompt; asked twice for a new key.
func passphrase(c *cli.Context, twice bool) (string, error) {
	if file := c.String("passphrase-file"); file != "" {
		const most = 4096
		data, err := input{name: file}.read(c.Context, c.App.Reader, most)
		if err != nil {
			return "", fixedError(file, err)
		}
		line, _, _ := strings.Cut(string(data), "\n")
		if line = strings.TrimSuffix(line, "\r"); line == "" {
			return "", usageError("", "the first line of %s is empty", file)
		}
		return line, nil
	}
	if secret := os.Getenv(passphraseEnv); secret != "" {
		return secret, nil
	}
	in, ok := c.App.Reader.(*os.File)
	if !ok || !term.IsTerminal(int(in.Fd())) {
		return "", usageError("give --passphrase-file FILE or set "+passphraseEnv, "no passphrase, and no terminal to ask for it")
	}
	first, err := ask(c, in, "passphrase: ")
	if err != nil || !twice {
		return first, err
	}
	second, err := ask(c, in, "once more: ")
	if err == nil && first != second {
		err = usageError("", "the two passphrases are not the same")
	}
	return first, err
}

func ask(c *cli.Context, in *os.File, prompt string) (string, error) {
	fmt.Fprint(c.App.ErrWriter, prompt)
	secret, err := term.ReadPassword(int(in.Fd()))
	fmt.Fprintln(c.App.ErrWriter)
	if err != nil {
		return "", usageError("", "reading the passphrase: %s", err)
	}
	return string(secret), nil
}
