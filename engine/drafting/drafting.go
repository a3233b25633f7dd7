// Package drafting prepares drawings: it turns a design, its facts and the
// record of its computation into the plain data that engine/report/drawing
// draws.
//
// What enters: what one review was made from. What leaves: data of pump charts,
// basin sections and a riser diagram, without finding marks, which a caller
// adds to the frame. It computes nothing about water, judges nothing and draws
// nothing.
package drafting

import (
	"math"
	"strings"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/facts"
	"backpitch/engine/finding"
	"backpitch/engine/quantity"
	"backpitch/engine/report/drawing"
)

// Source is what a drawing is made from.
type Source struct {
	Design   *design.Document
	Facts    *facts.Facts
	Record   *calcs.Record
	Findings []finding.Finding // for the least rate a rule asks of a pump; may be empty
	Units    quantity.System
}

// point is a point of a curve in the fixed units of a drawing.
func point(p calcs.Point) drawing.Point {
	return drawing.Point{Flow: int64(math.Round(p.Flow * 1e6)), Head: int64(math.Round(p.Head * 1e6))}
}

func points(list []calcs.Point) []drawing.Point {
	out := make([]drawing.Point, len(list))
	for i, p := range list {
		out[i] = point(p)
	}
	return out
}

// Pumps gives the chart of every pump that was computed against its line.
func Pumps(s Source) []drawing.PumpData {
	var out []drawing.PumpData
	for _, p := range s.Record.Pumps {
		d := drawing.PumpData{
			Frame: drawing.Frame{Prefix: "pump-" + p.ID + "-", Units: s.Units}, ID: p.ID, Name: `pump "` + p.ID + `"`,
			Points: points(p.Curve), Model: p.Model, Tolerance: p.Tolerance, Pumps: 1,
			Low: points(p.System[2]), Expected: points(p.System[1]), High: points(p.System[0]),
			Static: fixed(p.Static, 1e6),
		}
		d.Operating = append(d.Operating, operating("one pump, as expected", p.Operating[1]))
		if t := p.Together; t != nil {
			d.Operating = append(d.Operating, drawing.Operating{Name: "all pumps of the line", Meeting: drawing.Met,
				At: point(calcs.Point{Flow: t.Flow[1], Head: t.Head})})
		}
		for _, f := range s.Findings {
			if f.Subject == p.ID && strings.HasPrefix(f.Rule, "pump/rate_too_low") && f.Limit != nil && f.Limit.Fixed != nil {
				d.LeastFlow, d.LeastName = f.Limit.Fixed, "least rate, "+f.Section
				break
			}
		}
		out = append(out, d)
	}
	return out
}

func fixed(si, scale float64) *int64 {
	n := int64(math.Round(si * scale))
	return &n
}

// operating has no element of its own: the chart carries the marks of its pump.
func operating(name string, o calcs.Operating) drawing.Operating {
	out := drawing.Operating{Name: name, Meeting: drawing.Met, At: point(o.At)}
	switch o.Status {
	case "static_above_shut_off":
		out.Meeting = drawing.NeverMeet
	case "beyond_last_point":
		out.Meeting = drawing.BeyondLast
	}
	return out
}

// show renders a stated quantity in the units of the drawing, "" where it is
// not stated.
func (s Source) show(kind quantity.Kind, v quantity.Value) string {
	if v.IsZero() {
		return ""
	}
	return quantity.Format(kind, v.Fixed(), s.Units)
}

func plain(word string) string { return strings.ReplaceAll(word, "_", " ") }

// say joins what is not empty.
func say(separator string, parts ...string) string {
	var kept []string
	for _, p := range parts {
		if p != "" {
			kept = append(kept, p)
		}
	}
	return strings.Join(kept, separator)
}

// devices lists the devices of a pipe in order of flow.
func (s Source) devices(p *design.Pipe) []drawing.Device {
	var out []drawing.Device
	for i := range p.Devices {
		d := &p.Devices[i]
		detail := say(", ", plain(d.Style), plain(d.Place))
		if d.Kind == "relief_hole" {
			detail = s.show(quantity.Length, d.HoleSize.Value)
		}
		out = append(out, drawing.Device{ID: d.ID, Kind: d.Kind, Detail: detail, Inside: d.Place == "inside_basin", At: s.show(quantity.Length, d.At.Value)})
	}
	return out
}
