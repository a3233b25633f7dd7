package drafting

import (
	"backpitch/engine/design"
	"backpitch/engine/quantity"
	"backpitch/engine/report/drawing"
)

// Riser gives the riser diagram of the whole design.
func Riser(s Source) drawing.RiserData {
	d := drawing.RiserData{Frame: drawing.Frame{Prefix: "riser-", Title: say(" ", "Riser diagram,", s.Design.Project.Name), Units: s.Units}}
	s.riserNodes(&d)
	lies := map[string]string{}
	for _, f := range s.Facts.Drains {
		lies[f.ID] = f.Lie
	}
	for _, f := range s.Facts.Vents {
		lies[f.ID] = f.Lie
	}
	for i := range s.Design.Pipes {
		p := &s.Design.Pipes[i]
		lie := lies[p.ID]
		slope := s.show(quantity.Slope, p.Slope.Value)
		if p.Service == "pumped" {
			slope = s.show(quantity.Length, p.Length.Value)
		}
		d.Pipes = append(d.Pipes, drawing.Pipe{
			ID: p.ID, Service: drawing.Service(p.Service), From: p.From, To: p.To, Size: s.show(quantity.Size, p.Size.Value),
			Slope: slope, Lie: lie != "", Vertical: lie == "vertical" || lie == "sloped_45", Devices: s.devices(p),
		})
	}
	return d
}

func (s Source) riserNodes(d *drawing.RiserData) {
	doc := s.Design
	for i := range doc.Fixtures {
		f := &doc.Fixtures[i]
		n := drawing.Node{ID: f.ID, Kind: drawing.Fixture, Fixture: f.Kind, Storey: f.Storey}
		if t := f.Trap; t != nil && t.Type != "integral" && t.Type != "none" {
			n.Trap = s.show(quantity.Size, t.Size.Value)
		}
		d.Nodes = append(d.Nodes, n)
	}
	for i := range doc.Junctions {
		d.Nodes = append(d.Nodes, drawing.Node{ID: doc.Junctions[i].ID, Kind: drawing.Junction, Run: doc.Junctions[i].Run})
	}
	for i := range doc.Terminals {
		d.Nodes = append(d.Nodes, drawing.Node{ID: doc.Terminals[i].ID, Kind: drawing.NodeKind(doc.Terminals[i].Kind)})
	}
	for i := range doc.Basins {
		b := &doc.Basins[i]
		n := drawing.Node{ID: b.ID, Kind: drawing.Basin}
		if b.Inlet != nil {
			if at := s.show(quantity.Length, b.Inlet.Invert.Value); at != "" {
				n.Notes = append(n.Notes, "inlet inv. "+at)
			}
		}
		d.Nodes = append(d.Nodes, n)
	}
	for i := range doc.Pumps {
		d.Nodes = append(d.Nodes, drawing.Node{ID: doc.Pumps[i].ID, Kind: drawing.Pump, In: doc.Pumps[i].Basin})
	}
	for i := range doc.Connections {
		d.Nodes = append(d.Nodes, s.connection(&doc.Connections[i]))
	}
}

func (s Source) connection(c *design.Connection) drawing.Node {
	n := drawing.Node{ID: c.ID, Kind: drawing.Connection, Label: say(" ", plain(c.Kind), s.show(quantity.Size, c.Size.Value))}
	invert := s.show(quantity.Length, c.Invert.Value)
	if invert != "" {
		invert = "inv. " + invert
	}
	if note := say(", ", s.show(quantity.Slope, c.Slope.Value), invert); note != "" {
		n.Notes = append(n.Notes, note)
	}
	return n
}
