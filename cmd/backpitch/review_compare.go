package main

import (
	"context"
	"io"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"backpitch/engine/finding"
	"backpitch/engine/report"
)

// severalProfiles splits the profiles of review --profile A,B,C; none where
// one, or the design's own, is asked for.
func severalProfiles(c *cli.Context) ([]string, error) {
	if !strings.Contains(c.String("profile"), ",") {
		return nil, nil
	}
	var ids []string
	for _, id := range strings.Split(c.String("profile"), ",") {
		id = strings.TrimSpace(id)
		switch {
		case id == "":
			return nil, usageError("--profile ipc-2021,chicago", "--profile %q names an empty profile", c.String("profile"))
		case slices.Contains(ids, id):
			return nil, usageError("", "--profile names %q twice", id)
		}
		ids = append(ids, id)
	}
	for _, flag := range []string{"stream", "out-dir"} {
		if c.IsSet(flag) {
			return nil, usageError("review under one profile, or leave --"+flag+" out", "--%s and several profiles do not go together", flag)
		}
	}
	if f := c.String("format"); f != "text" && f != "json" {
		return nil, usageError("leave --format out", "several profiles are compared as text or json, not %s", f)
	}
	return ids, nil
}

// compare judges each design under each profile and prints where they differ.
func (s *settings) compare(ctx context.Context, r *reviewer, ids []string, inputs []input) (code int, err error) {
	var list []report.Comparison
	for _, in := range inputs {
		reviews := r.underEach(ctx, ids, in)
		if ctx.Err() != nil {
			return 0, ctx.Err()
		}
		for _, review := range reviews {
			code = max(code, exitCode(review, s.threshold))
		}
		list = append(list, report.Compare(reviews))
	}
	format := s.formats[0].Name
	return code, writeTo(s.output, s.stdout, func(w io.Writer) error {
		return report.WriteComparisons(w, format, list, s.opts)
	})
}

// underEach reviews one design under each profile. One that cannot be opened
// is named all the same.
func (r *reviewer) underEach(ctx context.Context, ids []string, in input) []finding.Review {
	data, failed := r.read(ctx, in)
	reviews := make([]finding.Review, len(ids))
	for i, id := range ids {
		if failed != nil {
			reviews[i] = failed.Review
		} else {
			one := *r
			one.profile = id
			reviews[i] = one.review(ctx, in.name, 0, data).Review
		}
		if reviews[i].Profile.ID == "" {
			reviews[i].Profile.ID = id
		}
	}
	return reviews
}
