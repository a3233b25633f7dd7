package report

import (
	"encoding/json"
	"io"

	"backpitch/engine/finding"
)

// FindingsSchema is the $schema value of a JSON report; the text of the schema
// is printed by `backpitch schema findings`.
const FindingsSchema = "findings.schema.json"

type jsonReport struct {
	Schema   string           `json:"$schema"`
	Tool     jsonTool         `json:"tool"`
	Reviews  []finding.Review `json:"reviews"`
	Totals   finding.Counts   `json:"totals"`
	Cautions []string         `json:"cautions"`
}

type jsonTool struct {
	Name    string `json:"name"`
	Version string `json:"version"`
}

// JSON prints every outcome, passes and margins included, as
// schema/findings.schema.json describes.
func JSON(w io.Writer, b Batch, o Options) error {
	reviews := make([]finding.Review, len(b.Reviews))
	for i, r := range b.Reviews {
		// Empty lists are [] for whoever iterates over them.
		if r.Problems == nil {
			r.Problems = []finding.Problem{}
		}
		if r.Findings == nil {
			r.Findings = []finding.Finding{}
		}
		reviews[i] = r
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(jsonReport{
		Schema:   FindingsSchema,
		Tool:     jsonTool{Name: "backpitch", Version: o.Version},
		Reviews:  reviews,
		Totals:   Totals(b.Reviews),
		Cautions: Cautions,
	})
}
