package drafting

import (
	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/quantity"
	"backpitch/engine/report/drawing"
)

// Basins gives the section of every basin.
func Basins(s Source) []drawing.BasinData {
	var out []drawing.BasinData
	for i := range s.Design.Basins {
		out = append(out, s.basin(&s.Design.Basins[i]))
	}
	return out
}

func (s Source) basin(b *design.Basin) drawing.BasinData {
	d := drawing.BasinData{
		Frame: drawing.Frame{Prefix: "basin-" + b.ID + "-", Units: s.Units}, ID: b.ID, Name: `basin "` + b.ID + `"`,
		Round: b.Shape != "rectangular", Width: stated(b.Diameter.Value), Depth: stated(b.Depth.Value), Outside: stated(b.Outside.Value),
		Elevation: stated(b.Floor.Value), GroundWater: above(b.GroundWater.Value, b.Floor.Value), Grade: above(b.Grade.Value, b.Floor.Value),
	}
	if !d.Round {
		d.Width = stated(b.PlanWidth.Value)
	}
	if c := b.Cover; c != nil {
		d.Cover = say(", ", word(c.GasTight, "gas-tight", "not gas-tight"), word(c.Fastened, "fastened", "not fastened"))
	}
	if sl := b.Slab; sl != nil && !sl.Diameter.IsZero() && !sl.Thickness.IsZero() {
		d.Slab = &drawing.Slab{Width: sl.Diameter.Fixed(), Thickness: sl.Thickness.Fixed()}
	}
	s.levels(b, &d)
	s.around(b, &d)
	if b.Bedding != "" {
		d.Notes = append(d.Notes, "Bedding: "+b.Bedding+".")
	}
	if w := s.show(quantity.Weight, b.Ballast.Value); w != "" {
		d.Notes = append(d.Notes, "Ballast: "+w+".")
	}
	return d
}

// levels sets the switching levels, each with the volume since the one below.
func (s Source) levels(b *design.Basin, d *drawing.BasinData) {
	var known []calcs.Level
	for _, r := range s.Record.Basins {
		if r.ID == b.ID {
			known = r.Levels
		}
	}
	kinds := map[string]drawing.LevelKind{"stop": drawing.Stop, "start": drawing.Start, "second start": drawing.SecondStart, "alarm": drawing.Alarm}
	last := -1.0
	for _, l := range known {
		kind, ok := kinds[l.Name]
		if !ok {
			continue
		}
		level := drawing.Level{Kind: kind, Height: *fixed(l.Height, 1e6)}
		if last >= 0 {
			level.Volume = fixed(l.Volume-last, 1e6)
		}
		last = l.Volume
		d.Levels = append(d.Levels, level)
	}
	if known != nil || b.Levels == nil { // without a plan there are no volumes, only heights
		return
	}
	for _, l := range []struct {
		kind drawing.LevelKind
		at   quantity.Value
	}{{drawing.Stop, b.Levels.Stop.Value}, {drawing.Start, b.Levels.Start.Value}, {drawing.SecondStart, b.Levels.SecondStart.Value}, {drawing.Alarm, b.Levels.Alarm.Value}} {
		if !l.at.IsZero() {
			d.Levels = append(d.Levels, drawing.Level{Kind: l.kind, Height: l.at.Fixed()})
		}
	}
}

// around sets what enters and leaves: inlet, pumps, vent and discharge.
func (s Source) around(b *design.Basin, d *drawing.BasinData) {
	for _, f := range s.Facts.Basins {
		if f.ID == b.ID && f.InletHeight != nil && b.Inlet != nil {
			d.Inlet = &drawing.Inlet{ID: f.LargestDrainID, Height: *f.InletHeight, Name: say(" ", "inlet", s.show(quantity.Size, b.Inlet.Size.Value))}
			if !b.Inlet.Size.IsZero() {
				d.Inlet.Diameter = b.Inlet.Size.Fixed() * 1000
			}
		}
	}
	for i := range s.Design.Pumps {
		p := &s.Design.Pumps[i]
		if p.Basin != b.ID {
			continue
		}
		d.Pumps = append(d.Pumps, say(", ", p.ID, plain(p.Kind)))
		if d.PumpID == "" {
			d.PumpID = p.ID
		}
	}
	for i := range s.Design.Pipes {
		p := &s.Design.Pipes[i]
		switch {
		case p.Service == "vent" && p.From == b.ID && d.Vent == nil:
			d.Vent = &drawing.Stub{ID: p.ID, Name: say(" ", "vent", s.show(quantity.Size, p.Size.Value)), Devices: s.devices(p)}
		case p.Service == "pumped" && p.From == d.PumpID && d.PumpID != "" && d.Discharge == nil:
			d.Discharge = &drawing.Stub{ID: p.ID, Name: say(" ", "discharge", s.show(quantity.Size, p.Size.Value), "to", p.To), Devices: s.devices(p)}
		}
	}
}

func stated(v quantity.Value) *int64 {
	if v.IsZero() {
		return nil
	}
	n := v.Fixed()
	return &n
}

// above is a height over the floor, nil where either is not stated.
func above(v, floor quantity.Value) *int64 {
	if v.IsZero() || floor.IsZero() {
		return nil
	}
	n := v.Fixed() - floor.Fixed()
	return &n
}

func word(b *bool, yes, no string) string {
	switch {
	case b == nil:
		return ""
	case *b:
		return yes
	}
	return no
}
