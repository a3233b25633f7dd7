package engine

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"backpitch/engine/finding"
	"backpitch/engine/quantity"
)

// placeholder is {subject}, {measured}, {limit}, {detail} or {fact:name} in the
// message of a rule.
var placeholder = regexp.MustCompile(`\{(subject|measured|limit|detail|fact:[a-z_.]+)\}`)

// renderer turns whole numbers and words into text in a profile's units.
type renderer struct {
	units quantity.System
}

// quantity renders a measured value or a limit; nil when there is none.
func (r renderer) quantity(kind string, value any) *finding.Quantity {
	switch v := value.(type) {
	case nil:
		return nil
	case int64:
		if kind == "" {
			kind = string(quantity.Count)
		}
		return &finding.Quantity{Kind: kind, Fixed: &v, Text: r.number(kind, v)}
	case bool:
		return &finding.Quantity{Kind: "flag", Text: r.words(kind, v)}
	default:
		return &finding.Quantity{Kind: "text", Text: r.words(kind, v)}
	}
}

// number renders one whole number. Only a limit can be without end.
func (r renderer) number(kind string, n int64) string {
	if n == quantity.Unlimited {
		return quantity.FormatLimit(quantity.Kind(kind), n, r.units)
	}
	return quantity.Format(quantity.Kind(kind), n, r.units)
}

// words renders anything that is not one whole number.
func (r renderer) words(kind string, value any) string {
	switch v := value.(type) {
	case nil:
		return "nothing"
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case string:
		if dn, ok := sizeOf(v); ok {
			return r.number(string(quantity.Size), dn)
		}
		return plainWords(v)
	case int64:
		return r.quantity(kind, v).Text
	case []string:
		return r.list(kind, toAny(v))
	case []int64:
		list := make([]any, len(v))
		for i, n := range v {
			list[i] = n
		}
		return r.list(kind, list)
	case []any:
		return r.list(kind, v)
	}
	return fmt.Sprint(value)
}

func (r renderer) list(kind string, values []any) string {
	if len(values) == 0 {
		return "none"
	}
	parts := make([]string, len(values))
	for i, v := range values {
		parts[i] = r.words(kind, v)
	}
	return strings.Join(parts, ", ")
}

func toAny(words []string) []any {
	list := make([]any, len(words))
	for i, w := range words {
		list[i] = w
	}
	return list
}

// sizeOf reads a size key such as "DN 80".
func sizeOf(key string) (dn int64, ok bool) {
	digits, ok := strings.CutPrefix(key, "DN ")
	if !ok {
		return 0, false
	}
	dn, err := strconv.ParseInt(digits, 10, 64)
	return dn, err == nil
}

// plainWords turns a schema word into words of the trade: full_open_valve to
// full open valve, pvc_dwv to PVC DWV.
func plainWords(s string) string {
	if words, ok := tradeWords[s]; ok {
		return words
	}
	return strings.ReplaceAll(s, "_", " ")
}

// tradeWords are the schema words whose letters or order differ in speech.
var tradeWords = map[string]string{
	"pvc_dwv": "PVC DWV", "abs_dwv": "ABS DWV", "pvc_sch40": "Schedule 40 PVC", "abs_sch40": "Schedule 40 ABS",
	"copper_dwv": "copper DWV", "copper_l": "type L copper", "cpvc": "CPVC", "pe": "polyethylene",
	"steel_galvanized": "galvanized steel", "stainless_304": "stainless steel 304", "stainless_316l": "stainless steel 316L",
	"pvc_u_en": "PVC-U (EN)", "pe_en": "polyethylene (EN)", "pp_en": "polypropylene (EN)",
	"p_trap": "P trap", "s_trap": "S trap", "sloped_45": "sloped 45°",
	"full_open_valve": "full-open valve", "one_family": "one-family", "two_family": "two-family",
}

// message fills the placeholders of a rule's message. A fact that is absent is
// said to be not shown.
func (r renderer) message(template, subject string, measured, limit *finding.Quantity, detail string, fact func(name string) (kind string, value any, ok bool)) string {
	text := placeholder.ReplaceAllStringFunc(template, func(p string) string {
		switch name := p[1 : len(p)-1]; name {
		case "subject":
			return subject
		case "measured":
			return textOf(measured)
		case "limit":
			return textOf(limit)
		case "detail":
			return detail
		default:
			name = strings.TrimPrefix(name, "fact:")
			kind, value, ok := fact(name)
			if !ok {
				return "an amount that is not shown"
			}
			return r.words(kind, value)
		}
	})
	return strings.TrimRight(strings.TrimSpace(text), " ;,:")
}

func textOf(q *finding.Quantity) string {
	if q == nil {
		return "nothing"
	}
	return q.Text
}

// apart adds digits to a measured value and a limit that differ but would
// print alike.
func (r renderer) apart(measured, limit *finding.Quantity) {
	if measured == nil || limit == nil || measured.Fixed == nil || limit.Fixed == nil || *limit.Fixed == quantity.Unlimited || *limit.Fixed == 0 {
		return
	}
	if *measured.Fixed != *limit.Fixed && measured.Text == limit.Text {
		measured.Text, limit.Text = quantity.FormatApart(quantity.Kind(measured.Kind), *measured.Fixed, *limit.Fixed, r.units)
	}
}

// margin is how far a measured value stands on the right side (positive) or the
// wrong side (negative) of its limit; nil where no number was compared.
func (r renderer) margin(op string, measured, limit *finding.Quantity) *finding.Quantity {
	if measured == nil || limit == nil || measured.Fixed == nil || limit.Fixed == nil || *limit.Fixed == quantity.Unlimited {
		return nil
	}
	var n int64
	switch op {
	case "at_least", "above":
		n = *measured.Fixed - *limit.Fixed
	case "at_most":
		n = *limit.Fixed - *measured.Fixed
	default:
		return nil
	}
	if measured.Kind == string(quantity.Size) {
		// The distance between two nominal sizes is no size.
		return nil
	}
	return &finding.Quantity{Kind: measured.Kind, Fixed: &n, Text: signed(measured.Kind, n, r.units)}
}

func signed(kind string, n int64, units quantity.System) string {
	if n < 0 {
		return "-" + quantity.Format(quantity.Kind(kind), -n, units)
	}
	return quantity.Format(quantity.Kind(kind), n, units)
}

// spread renders the ends of a measured value that is not exact; an end that
// prints like the limit but is not it gets further digits.
func (r renderer) spread(kind string, ends []int64, limit *finding.Quantity) *finding.Range {
	if len(ends) != 2 {
		return nil
	}
	end := func(n int64) finding.Quantity {
		q := r.quantity(kind, n)
		if limit != nil && limit.Fixed != nil && *limit.Fixed != quantity.Unlimited && *limit.Fixed != 0 && kind != "" {
			q.Text, _ = quantity.FormatApart(quantity.Kind(kind), n, *limit.Fixed, r.units)
		}
		return *q
	}
	return &finding.Range{Low: end(ends[0]), High: end(ends[1])}
}

// detail fills {measured}, {limit}, {low} and {high} in what lib.judge says of a range.
func (r renderer) detail(text string, f *finding.Finding) string {
	if f.Range == nil {
		return text
	}
	return strings.NewReplacer("{measured}", textOf(f.Measured), "{limit}", textOf(f.Limit),
		"{low}", f.Range.Low.Text, "{high}", f.Range.High.Text).Replace(text)
}
