package bench

import (
	"fmt"
	"io/fs"

	"backpitch/engine/policy"
	"backpitch/engine/profile"
)

// RuleText is a rule as the page's editors show it: its Rego, and the amendment
// that adopts it, or how the profile adopts it already.
type RuleText struct {
	Rule      string `json:"rule"`
	Amendment string `json:"amendment"`
	Adopted   string `json:"adopted"`
}

// RuleIDs lists the rules that a profile adopts.
func (b *Bench) RuleIDs(profileID string) ([]string, error) {
	p, err := profile.Load(b.policies, profileID)
	if err != nil {
		return nil, err
	}
	return p.Rules(), nil
}

// RuleText returns an adopted rule, to be changed by the class.
func (b *Bench) RuleText(profileID, id string) (RuleText, error) {
	p, err := profile.Load(b.policies, profileID)
	if err != nil {
		return RuleText{}, err
	}
	a, ok := p.Adopts[id]
	if !ok {
		return RuleText{}, fmt.Errorf("profile %q does not adopt the rule %q", profileID, id)
	}
	files, err := policy.Sources(b.policies, p, false)
	if err != nil {
		return RuleText{}, err
	}
	text, err := fs.ReadFile(files, b.place(files, p, id))
	if err != nil {
		return RuleText{}, fmt.Errorf("reading a rule: %w", err)
	}
	return RuleText{Rule: string(text), Adopted: fmt.Sprintf("%s adopts it: %s (%s)", p.Title, a.Section, a.Basis)}, nil
}

// NewRule is a rule to begin with: it judges at once, and says what each part
// is for.
func NewRule() RuleText {
	return RuleText{Rule: newRule, Amendment: newAdoption}
}

const newRule = `# METADATA
# title: Drain too long
# description: A horizontal drain is no longer than the class allows.
# schemas:
#   - input: schema.facts
# custom:
#   level: warning              # error, warning or note
#   subject: drain              # the word for what is judged
#   quantity: length            # kind of the measured value and the limit
#   message: "{subject} is {measured} long; {limit} or less is allowed in this class"
#   remedy: "Shorten it, or divide it with a cleanout."
#   rationale: "A long run cannot be rodded from one end."
#   needs: [length]             # without these facts it is open, never passed
#   tables: []                  # tables of the profile that it reads
#   status: preview
package rules.class.too_long

import data.lib.judge

# Whom the rule is about: every drain that is not upright.
subject[p.id] := p if {
	some p in input.drains
	not p.lie == "vertical"
}

# 3 ft in micrometres, the unit of every length. Lengths, slopes and flows are
# whole numbers in fixed units, so that a comparison at the limit is exact.
most := 3 * 304800

# One verdict for each subject, made by lib.judge.
verdict[id] := judge.at_most(p.length, most) if some id, p in subject
`

const newAdoption = `{
  "adopts": {
    "class/too_long": { "section": "class 1", "basis": "common practice", "source": "class" }
  }
}
`
