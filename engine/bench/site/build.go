package site

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// Error says why the engine for the page cannot be had. Hint says what to do
// and is not part of Error().
type Error struct{ Message, Hint string }

func (e *Error) Error() string { return e.Message }

// HintText returns the hint.
func (e *Error) HintText() string { return e.Hint }

// Checkout finds the project's folder that dir lies in.
func Checkout(dir string) (string, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	for at := dir; ; at = filepath.Dir(at) {
		mod, err := os.ReadFile(filepath.Join(at, "go.mod"))
		if err == nil && (bytes.HasPrefix(mod, []byte("module backpitch\n")) || bytes.HasPrefix(mod, []byte("module backpitch\r\n"))) {
			if _, err := os.Stat(filepath.Join(at, "cmd", "backpitch-wasm")); err == nil {
				return at, nil
			}
		}
		if at == filepath.Dir(at) {
			return "", &Error{"the page needs the engine built for browsers, and this folder is in no checkout of backpitch to build it from",
				"run it in a checkout: go run ./cmd/backpitch bench; or open a folder that bench --export has written"}
		}
	}
}

// Builder builds the engine for browsers out of a checkout.
type Builder struct {
	Root  string                           // of the checkout
	Cache string                           // folder to keep it in
	Go    string                           // the go command
	Say   func(format string, args ...any) // progress
}

// Build returns the engine. What has not changed is neither linked nor
// compressed again.
func (b Builder) Build(ctx context.Context) (Engine, error) {
	command, err := exec.LookPath(b.Go)
	if err != nil {
		return Engine{}, &Error{"the page needs the engine built for browsers, and there is no Go toolchain to build it",
			"install Go, or open a folder that bench --export has written where there is one"}
	}
	goroot, err := b.run(ctx, command, "env", "GOROOT")
	if err != nil {
		return Engine{}, err
	}
	var e Engine
	script := filepath.Join(strings.TrimSpace(goroot), "lib", "wasm", "wasm_exec.js")
	if e.Script, err = os.ReadFile(script); err != nil {
		return Engine{}, &Error{fmt.Sprintf("the Go toolchain has no %s", script), "use the Go that go.mod names, as it comes from its makers"}
	}
	if err := os.MkdirAll(b.Cache, 0o755); err != nil {
		return Engine{}, fmt.Errorf("making the cache: %w", err)
	}
	built := filepath.Join(b.Cache, "engine-"+short([]byte(b.Root))+".wasm")
	if _, err := os.Stat(built); err != nil {
		b.Say("building the engine for browsers; the first time takes a minute or more")
	}
	if _, err := b.run(ctx, command, "build", "-trimpath", "-ldflags=-s -w", "-o", built, "./cmd/backpitch-wasm"); err != nil {
		return Engine{}, err
	}
	e.Wasm, err = b.zipped(built)
	return e, err
}

// run runs the Go command in the checkout, for browsers.
func (b Builder) run(ctx context.Context, command string, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, command, args...)
	cmd.Dir = b.Root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm", "GOFLAGS=")
	var out, problems bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &problems
	if err := cmd.Run(); err != nil {
		if ctx.Err() != nil {
			return "", &Error{Message: "building the engine for browsers was stopped"}
		}
		return "", &Error{fmt.Sprintf("building the engine for browsers failed: go %s: %s\n%s", args[0], err, strings.TrimSpace(problems.String())),
			"go build ./... in the checkout shows whether it is sound"}
	}
	return out.String(), nil
}

// zipped compresses the engine, or finds what it compressed before.
func (b Builder) zipped(built string) ([]byte, error) {
	raw, err := os.ReadFile(built)
	if err != nil {
		return nil, fmt.Errorf("reading the engine: %w", err)
	}
	kept := strings.TrimSuffix(built, ".wasm") + "-" + short(raw) + ".wasm.gz"
	if data, err := os.ReadFile(kept); err == nil {
		return data, nil
	} else if !errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("reading the engine: %w", err)
	}
	b.Say("compressing it")
	var out bytes.Buffer
	if err := zip(&out, bytes.NewReader(raw)); err != nil {
		return nil, fmt.Errorf("compressing the engine: %w", err)
	}
	old, err := filepath.Glob(strings.TrimSuffix(built, ".wasm") + "-*.wasm.gz")
	if err != nil {
		return nil, fmt.Errorf("clearing the cache: %w", err)
	}
	for _, f := range old {
		os.Remove(f) //nolint:errcheck // one more file in a cache
	}
	return out.Bytes(), writeWhole(kept, out.Bytes())
}

// writeWhole writes a file whole or not at all.
func writeWhole(name string, data []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), ".backpitch-new-*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if _, err = io.Copy(f, bytes.NewReader(data)); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}

func short(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:6])
}
