package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"github.com/urfave/cli/v2"

	"backpitch/engine/finding"
	"backpitch/engine/report"
)

// outDir is a folder with the reports of each submission.
type outDir struct {
	path    string
	formats []report.Format
	opts    report.Options
	skip    bool   // leave what has not changed as it is
	run     string // digest of program and options
	state   *state
	unlock  func()

	profileDigest func(id string) (string, error)
	mu            sync.Mutex
	profiles      map[string]string // digests by id
}

const (
	lockName   = ".backpitch-lock"
	tempPrefix = ".backpitch-new-"
)

// open makes the folder, takes its lock and removes what a killed run left.
func (o *outDir) open() error {
	if err := os.MkdirAll(o.path, 0o755); err != nil {
		return o.fault(err)
	}
	unlock, busy, err := lockFile(filepath.Join(o.path, lockName))
	switch {
	case err != nil:
		return o.fault(err)
	case busy:
		return usageError("wait until it has ended, or name another folder", "another run is writing to %s", o.path)
	}
	o.unlock = unlock
	entries, err := os.ReadDir(o.path)
	for _, e := range entries {
		if err == nil && strings.HasPrefix(e.Name(), tempPrefix) {
			err = os.Remove(filepath.Join(o.path, e.Name()))
		}
	}
	if err == nil {
		o.state, err = openState(o.path)
	}
	if err != nil {
		o.unlock()
		return o.fault(err)
	}
	return nil
}

// close puts the state in order. It is not called after a fault.
func (o *outDir) close() error {
	defer o.unlock()
	if err := o.state.close(); err != nil {
		return o.fault(err)
	}
	if d, err := os.Open(o.path); err == nil {
		d.Sync() //nolint:errcheck // not every file system can
		d.Close()
	}
	return nil
}

func (o *outDir) fault(err error) error {
	var exit *exitError
	if errors.As(err, &exit) {
		return err
	}
	return usageError("", "writing to %s: %s", o.path, fileReason(err))
}

// An outcome is what became of one submission.
type outcome struct {
	record  record
	skipped bool
	failed  bool // it could not be read or judged, so it is tried again next time
	err     error
}

// take reviews one submission and writes its reports, or finds that they stand.
func (o *outDir) take(ctx context.Context, r *reviewer, in input) outcome {
	data, failed := r.read(ctx, in)
	if failed != nil {
		return o.write(*failed, "")
	}
	sum := digest(data)
	if rec, ok := o.unchanged(in.name, sum); ok {
		if r.desk != nil { // its files must hear of the design
			r.desk.Mark(finding.Review{File: in.name, Project: rec.Row.Project})
		}
		return outcome{record: rec, skipped: true}
	}
	e := r.review(ctx, in.name, 0, data)
	if ctx.Err() != nil {
		return outcome{err: ctx.Err()} // its review may have been cut short
	}
	return o.write(e, sum)
}

func (o *outDir) unchanged(name, sum string) (record, bool) {
	if !o.skip {
		return record{}, false
	}
	o.mu.Lock()
	defer o.mu.Unlock()
	rec, ok := o.state.find(name)
	if !ok || rec.Design != sum || rec.Run != o.run || !rec.standing(o.path) {
		return record{}, false
	}
	now, err := o.digestOf(rec.Row.Profile)
	return rec, err == nil && now == rec.Profile
}

// digestOf is the digest of a profile; "" for a design that was not judged.
func (o *outDir) digestOf(profile string) (string, error) {
	if profile == "" {
		return "", nil
	}
	if d, ok := o.profiles[profile]; ok {
		return d, nil
	}
	d, err := o.profileDigest(profile)
	if err == nil {
		o.profiles[profile] = d
	}
	return d, err
}

// write writes the reports of one submission, each whole or not at all.
func (o *outDir) write(e report.Entry, sum string) outcome {
	out := outcome{failed: e.Failure != "", record: record{Design: sum, Run: o.run, Row: report.RowOf(e)}}
	o.mu.Lock()
	out.record.Profile, out.err = o.digestOf(e.Profile.ID)
	o.mu.Unlock()
	if out.err != nil {
		return out
	}
	for _, format := range o.formats {
		var buf bytes.Buffer
		sink := format.New(&buf, o.opts)
		if out.err = sink.Review(e); out.err == nil {
			out.err = sink.Close()
		}
		if out.err != nil {
			return out
		}
		out.record.LeftOut += report.LeftOut(sink)
		name := reportName(e.File) + format.Extension
		out.record.Reports = append(out.record.Reports, reportFile{name, int64(buf.Len())})
		if out.err = o.writeFile(name, buf.Bytes()); out.err != nil {
			return out
		}
	}
	return out
}

func (o *outDir) writeFile(name string, data []byte) error {
	f, err := createUnfinished(o.path, tempPrefix+"*")
	if err != nil {
		return err
	}
	return finishWhole(f, filepath.Join(o.path, name), func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// reportName names the reports of a design by its file name, and by a digest of
// its path as named, so that two designs never share a report and the same
// design has the same report every time.
func reportName(path string) string {
	if path == stdinName {
		return "stdin"
	}
	path = filepath.ToSlash(filepath.Clean(path))
	stem := path[strings.LastIndex(path, "/")+1:]
	if i := strings.LastIndex(stem, "."); i > 0 {
		stem = stem[:i]
	}
	stem = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_', r == '.':
			return r
		}
		return '_'
	}, stem)
	return strings.TrimLeft(stem[:min(len(stem), 80)], ".-") + "-" + digest([]byte(path))[:16]
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// reportEach writes the reports of each submission into a folder and prints the
// roll-up.
func (s *settings) reportEach(ctx context.Context, r *reviewer, o *outDir, inputs []input) (code int, err error) {
	if err := o.open(); err != nil {
		return 0, err
	}
	bar := s.progress(len(inputs), false)
	defer bar.clear()
	done := 0
	err = writeTo(s.output, s.stdout, func(w io.Writer) error {
		rows := s.rollUp.Rows(w, s.opts)
		p := pipeline[input, outcome]{
			workers: s.jobs,
			window:  2 * s.jobs,
			next:    inTurn(inputs),
			work:    func(in input) outcome { return o.take(ctx, r, in) },
			take: func(out outcome) error {
				if out.err != nil {
					return o.fault(out.err)
				}
				if !out.skipped && !out.failed {
					o.mu.Lock()
					err := o.state.add(out.record)
					o.mu.Unlock()
					if err != nil {
						return o.fault(err)
					}
				}
				s.left += out.record.LeftOut
				row := out.record.Row
				code = max(code, exitCodeOf(row.Unchecked != "", row.Counts, s.threshold))
				done++
				bar.step()
				return rows.Row(row)
			},
		}
		err := p.run(ctx)
		switch {
		case err != nil && ctx.Err() != nil:
			if toStdout(s.output) { // what is printed is finished, and says so
				if err := errors.Join(rows.Row(report.RowOf(unreviewed(inputs, done))), rows.Close()); err != nil {
					return err
				}
			}
			return interrupted(done, len(inputs), fmt.Sprintf("their reports are in %s, and --skip-unchanged goes on from there", o.path))
		case err != nil:
			return err
		}
		bar.clear()
		return rows.Close()
	})
	if err != nil {
		o.unlock()
		return code, err
	}
	return code, o.close()
}

// sameFolder says whether two paths are one folder.
func sameFolder(a, b string) bool {
	x, err := os.Stat(a)
	if err != nil || !x.IsDir() {
		return false
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y)
}

// intoFolder is review --out-dir.
func (s *settings) intoFolder(c *cli.Context, r *reviewer, paths []string, inputs []input) (code int, err error) {
	dir := c.String("out-dir")
	for _, p := range paths {
		if sameFolder(p, dir) {
			return 0, usageError("name a folder of its own for the reports", "--out-dir %s is where the designs are", dir)
		}
	}
	fsys, err := policiesFS(c)
	if err != nil {
		return 0, err
	}
	run, err := digestRun(c)
	if err != nil {
		return 0, err
	}
	opts := s.opts
	opts.Colour = false
	o := &outDir{path: dir, formats: s.formats, opts: opts, skip: c.Bool("skip-unchanged"), run: run, profiles: map[string]string{}}
	o.profileDigest = func(id string) (string, error) {
		p, err := r.eng.Profile(id)
		if err != nil {
			return "", err
		}
		return digestPolicies(fsys, p.Chain)
	}
	return s.reportEach(c.Context, r, o, inputs)
}
