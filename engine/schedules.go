package engine

import (
	"fmt"
	"slices"
	"strings"

	"backpitch/engine/calcs"
	"backpitch/engine/facts"
	"backpitch/engine/quantity"
)

// cell renders a fact that may be absent.
func (w Working) cell(kind quantity.Kind, n *int64) string {
	if n == nil {
		return "-"
	}
	return quantity.Format(kind, *n, w.Units)
}

func text(s string) string {
	if s == "" {
		return "-"
	}
	return plainWords(s)
}

// load renders fixture units, or discharge units where the profile counts those.
func (w Working) load(n *int64) string {
	s := w.cell(quantity.Load, n)
	if w.Profile.Method.Load == "discharge_units" {
		s = strings.Replace(s, " dfu", " DU", 1)
	}
	return s
}

func (w Working) size(dn *int64) string { return w.cell(quantity.Size, dn) }

// fixtureTable is the fixture-unit schedule.
func (w Working) fixtureTable() calcs.Table {
	t := calcs.Table{About: "fixtures", Title: "Fixture schedule", Columns: []string{"fixture", "kind", "class", "trap", "load", "drains to"}}
	total, known := int64(0), true
	for _, f := range w.Facts.Fixtures {
		to := f.DrainsTo
		if f.BasinID != "" {
			to = f.BasinID
		} else if f.ConnectionID != "" {
			to = f.ConnectionID
		}
		t.Rows = append(t.Rows, []string{f.ID, text(f.Kind), text(f.Class), w.size(f.TrapDN), w.load(f.Load), to})
		if f.Load == nil {
			known = false
		} else {
			total += *f.Load
		}
	}
	if known && len(t.Rows) > 0 {
		t.Rows = append(t.Rows, []string{"sum", "", "", "", w.load(&total), ""})
		t.Notes = append(t.Notes, "a bathroom group may count less than the sum of its members from where all of them have joined")
	}
	return t
}

// subtotalTable is the load by branch: the drains where two or more fixtures
// have come together, the basins and the connections.
func (w Working) subtotalTable() calcs.Table {
	t := calcs.Table{About: "loads", Title: "Loads by branch, basin and connection", Columns: []string{"where", "fixtures", "load", "peak by gravity, continuous and pumped"}}
	for _, d := range w.Facts.Drains {
		if d.Fixtures > 1 {
			t.Rows = append(t.Rows, []string{"drain " + d.ID, fmt.Sprint(d.Fixtures), w.load(d.Load), w.cell(quantity.Flow, d.DesignFlow)})
		}
	}
	for _, b := range w.Facts.Basins {
		t.Rows = append(t.Rows, []string{"basin " + b.ID, fmt.Sprint(b.Fixtures), w.load(b.Load), w.cell(quantity.Flow, b.Inflow)})
	}
	for _, c := range w.Facts.Connections {
		t.Rows = append(t.Rows, []string{"connection " + c.ID + ", existing", "-", w.load(c.ExistingLoad), "-"},
			[]string{"connection " + c.ID + ", added", "-", w.load(c.AddedLoad), "-"},
			[]string{"connection " + c.ID + ", total", "-", w.load(c.TotalLoad), "-"})
	}
	return t
}

// headTable is the pump against its line, flow by flow.
func (w Working) headTable(p calcs.Pump) calcs.Table {
	flow, head := calcs.Unit("flow", w.Units), calcs.Unit("length", w.Units)
	t := calcs.Table{About: "pump", Title: fmt.Sprintf("Pump %q against its line", p.ID),
		Columns: []string{"flow, " + flow, "pump head, " + head, "line head, smooth", "line head, expected", "line head, rough"}}
	number := func(measure string, si float64) string { return calcs.Number(measure, si, w.Units) }
	for _, at := range p.Curve {
		row := []string{number("flow", at.Flow), number("length", at.Head)}
		for _, end := range []int{2, 1, 0} {
			row = append(row, number("length", between(p.System[end], at.Flow)))
		}
		t.Rows = append(t.Rows, row)
	}
	for _, end := range []struct {
		at   int
		name string
	}{{1, "as expected"}, {0, "rough pipe, pump at the low end"}, {2, "smooth pipe, pump at the high end"}} {
		o := p.Operating[end.at]
		if o.Status == "found" {
			t.Notes = append(t.Notes, fmt.Sprintf("operating point %s: %s %s at %s %s", end.name, number("flow", o.At.Flow), flow, number("length", o.At.Head), head))
		} else {
			t.Notes = append(t.Notes, fmt.Sprintf("operating point %s: none, %s", end.name, plainWords(o.Status)))
		}
	}
	if p.Tolerance > 0 {
		t.Notes = append(t.Notes, fmt.Sprintf("tolerance of the pump curve: %g %% of the head", p.Tolerance))
	}
	if p.Together != nil {
		t.Notes = append(t.Notes, fmt.Sprintf("together with the others on its line: %s %s (%s to %s)", number("flow", p.Together.Flow[1]), flow,
			number("flow", p.Together.Flow[0]), number("flow", p.Together.Flow[2])))
	}
	return t
}

// between reads a sampled curve; the samples stand close enough together that
// straight lines serve for a table.
func between(curve []calcs.Point, flow float64) float64 {
	i := slices.IndexFunc(curve, func(p calcs.Point) bool { return p.Flow >= flow })
	switch {
	case len(curve) == 0:
		return 0
	case i < 0:
		return curve[len(curve)-1].Head
	case i == 0 || curve[i].Flow == flow:
		return curve[i].Head
	}
	a, b := curve[i-1], curve[i]
	return a.Head + (b.Head-a.Head)*(flow-a.Flow)/(b.Flow-a.Flow)
}

// drainTable is how the horizontal drains run.
func (w Working) drainTable() calcs.Table {
	t := calcs.Table{About: "drains", Title: "Gravity drains", Columns: []string{"drain", "size", "bore", "slope", "invert from", "invert to", "load", "flow", "full", "filling", "velocity"}}
	for _, d := range w.Facts.Drains {
		if d.Lie != "horizontal" {
			continue
		}
		t.Rows = append(t.Rows, []string{d.ID, w.size(d.DN), w.bore(d), w.cell(quantity.Slope, d.Slope),
			w.cell(quantity.Length, d.InvertFrom), w.cell(quantity.Length, d.InvertTo), w.load(d.Load), w.cell(quantity.Flow, d.DesignFlow),
			w.cell(quantity.Flow, d.FullCapacity), w.ranged(quantity.Ratio, d.FillingLow, d.Filling, d.FillingHigh),
			w.ranged(quantity.Velocity, d.VelocityLow, d.Velocity, d.VelocityHigh)})
		if d.AboveInlet != nil {
			t.Notes = append(t.Notes, fmt.Sprintf("drain %s reaches basin %s %s above its inlet invert", d.ID, d.ToBasin, w.cell(quantity.Length, d.AboveInlet)))
		}
	}
	return t
}

func (w Working) bore(d facts.Drain) string {
	if d.Bore == nil {
		return "-"
	}
	return calcs.Number("short", float64(*d.Bore)/1e6, w.Units) + " " + calcs.Unit("short", w.Units)
}

func (w Working) ranged(kind quantity.Kind, low, expected, high *int64) string {
	s := w.cell(kind, expected)
	if low != nil && high != nil && *low != *high {
		s += " (" + w.cell(kind, low) + " to " + w.cell(kind, high) + ")"
	}
	return s
}

// levelTable is what a basin holds below each level.
func (w Working) levelTable(b calcs.Basin) calcs.Table {
	short, volume := calcs.Unit("short", w.Units), calcs.Unit("volume", w.Units)
	t := calcs.Table{About: "basin", Title: fmt.Sprintf("Basin %q by level", b.ID), Columns: []string{"level", "above floor, " + short, "holds, " + volume, "since the level below, " + volume}}
	last := 0.0
	for _, l := range b.Levels {
		t.Rows = append(t.Rows, []string{l.Name, calcs.Number("short", l.Height, w.Units), calcs.Number("volume", l.Volume, w.Units), calcs.Number("volume", l.Volume-last, w.Units)})
		last = l.Volume
	}
	return t
}

// fallTable says for each fixture whether it could reach the sewer by gravity.
func (w Working) fallTable() calcs.Table {
	t := calcs.Table{About: "gravity", Title: "Gravity first", Columns: []string{"fixture", "fall needed", "fall there is", "could fall", "drains to"}}
	for _, f := range w.Facts.Fixtures {
		could := "not known"
		if f.CouldFall != nil {
			could = map[bool]string{true: "yes", false: "no"}[*f.CouldFall]
		}
		t.Rows = append(t.Rows, []string{f.ID, w.cell(quantity.Length, f.FallNeeded), w.cell(quantity.Length, f.FallAvailable), could, text(f.DrainsTo)})
	}
	return t
}
