package drafting

import (
	"strings"

	"backpitch/engine/design"
	"backpitch/engine/quantity"
	"backpitch/engine/report/drawing"
)

// Lines gives the strip of every pumped line that leaves a pump.
func Lines(s Source) []drawing.PumpedData {
	var out []drawing.PumpedData
	for i := range s.Design.Pipes {
		p := &s.Design.Pipes[i]
		if p.Service != "pumped" {
			continue
		}
		for j := range s.Design.Pumps {
			if pump := &s.Design.Pumps[j]; pump.ID == p.From {
				out = append(out, s.line(p, pump))
			}
		}
	}
	return out
}

func (s Source) line(p *design.Pipe, pump *design.Pump) drawing.PumpedData {
	return drawing.PumpedData{
		Frame: drawing.Frame{Prefix: "line-" + p.ID + "-", Units: s.Units}, ID: p.ID,
		Pump: say(", ", `pump "`+pump.ID+`"`, kindWord(pump.Kind)), PumpID: pump.ID, To: s.receiver(p.To), ToID: p.To,
		Size: s.show(quantity.Size, p.Size.Value), Length: s.show(quantity.Length, p.Length.Value), Devices: s.devices(p),
	}
}

// receiver says where a pumped line empties, and how it enters.
func (s Source) receiver(id string) string {
	for i := range s.Design.Connections {
		c := &s.Design.Connections[i]
		if c.ID != id {
			continue
		}
		entry := ""
		if c.Entry != "" {
			entry = "entry from the " + plain(c.Entry)
		}
		return say(", ", plain(c.Kind)+` "`+id+`"`, s.show(quantity.Size, c.Size.Value), plain(c.Fitting), entry)
	}
	return `"` + id + `"`
}

// kindWord is the kind of a pump in speech.
func kindWord(kind string) string {
	if kind == "solids_handling" {
		return "solids-handling"
	}
	return strings.ReplaceAll(kind, "_", " ")
}
