package bundle

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"strings"

	"backpitch/engine/policy"
)

// Limits bound what is read of a bundle.
type Limits struct {
	Packed int64 // bytes as they come
	Total  int64 // bytes unpacked, headers included
	Member int64 // bytes of one member
	Files  int
	Path   int // bytes of a member's name
}

// DefaultLimits are some twenty times what the largest profile takes.
func DefaultLimits() Limits {
	return Limits{Packed: 8 << 20, Total: 32 << 20, Member: 4 << 20, Files: 4000, Path: 200}
}

// Write writes the bundle: members in the order of their names, no times, no
// owners. The same files give the same bytes.
func (b *Bundle) Write(w io.Writer) error {
	zip, err := gzip.NewWriterLevel(w, gzip.BestCompression)
	if err != nil {
		return fmt.Errorf("packing a bundle: %w", err)
	}
	out := tar.NewWriter(zip)
	for _, name := range b.Names() {
		h := &tar.Header{Typeflag: tar.TypeReg, Name: name, Mode: 0o644, Size: int64(len(b.files[name])), Format: tar.FormatUSTAR}
		if err := out.WriteHeader(h); err != nil {
			return fmt.Errorf("packing %s: %w", name, err)
		}
		if _, err := out.Write(b.files[name]); err != nil {
			return fmt.Errorf("packing %s: %w", name, err)
		}
	}
	if err := out.Close(); err != nil {
		return fmt.Errorf("packing a bundle: %w", err)
	}
	if err := zip.Close(); err != nil {
		return fmt.Errorf("packing a bundle: %w", err)
	}
	return nil
}

// errTooLarge is what the reader of an archive says at its limit.
var errTooLarge = errors.New("too large")

// capped fails at its limit, so that no archive grows without end.
type capped struct {
	r    io.Reader
	left int64
}

func (c *capped) Read(p []byte) (int, error) {
	if c.left <= 0 {
		return 0, errTooLarge
	}
	if int64(len(p)) > c.left {
		p = p[:c.left]
	}
	n, err := c.r.Read(p)
	c.left -= int64(n)
	return n, err
}

// unpack reads the members of an archive.
func unpack(data []byte, limits Limits) (policy.Files, error) {
	if int64(len(data)) > limits.Packed {
		return nil, refuse("", "the bundle has more than %d bytes", limits.Packed)
	}
	packed := bytes.NewReader(data)
	zip, err := gzip.NewReader(packed)
	if err != nil {
		return nil, refuse("a bundle is what profile pack writes", "this is no bundle: it is not packed with gzip")
	}
	zip.Multistream(false)
	text := &capped{zip, limits.Total}
	files := policy.Files{}
	for in := tar.NewReader(text); ; {
		h, err := in.Next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, unreadable(err, limits)
		}
		if len(files) == limits.Files {
			return nil, refuse("", "the bundle has more than %d files", limits.Files)
		}
		name, err := memberName(h, limits)
		if err != nil {
			return nil, err
		}
		if _, twice := files[name]; twice {
			return nil, refuse("", "%q stands in the bundle twice", name)
		}
		if files[name], err = io.ReadAll(in); err != nil {
			return nil, unreadable(err, limits)
		}
	}
	// What hides behind the end of the archive is in no signature.
	rest, err := io.Copy(io.Discard, text)
	switch {
	case err != nil:
		return nil, unreadable(err, limits)
	case rest > 0 || packed.Len() > 0:
		return nil, refuse("", "something stands behind the end of the bundle")
	}
	return files, nil
}

func unreadable(err error, limits Limits) error {
	if errors.Is(err, errTooLarge) {
		return refuse("", "the bundle unpacks to more than %d bytes", limits.Total)
	}
	return refuse("", "the bundle is damaged: %s", err)
}

// memberName checks the header of a member and returns its path.
func memberName(h *tar.Header, limits Limits) (string, error) {
	// OPA writes its members from a root of their own.
	name := strings.TrimPrefix(h.Name, "/")
	switch {
	case h.Typeflag != tar.TypeReg:
		return "", refuse("", "%.200q is %s; a bundle has regular files only", h.Name, kindOf(h.Typeflag))
	case len(name) > limits.Path:
		return "", refuse("", "%.200q… is longer than a path of %d bytes", name, limits.Path)
	case !fs.ValidPath(name) || strings.ContainsAny(name, "\\:\x00"):
		return "", refuse("", "the path %q leads outside the bundle", h.Name)
	case h.Size > limits.Member:
		return "", refuse("", "%q has %d bytes; %d are allowed", name, h.Size, limits.Member)
	}
	return name, nil
}

func kindOf(flag byte) string {
	switch flag {
	case tar.TypeSymlink:
		return "a symbolic link"
	case tar.TypeLink:
		return "a hard link"
	case tar.TypeDir:
		return "a folder"
	case tar.TypeChar, tar.TypeBlock, tar.TypeFifo:
		return "a device"
	}
	return "no regular file"
}
