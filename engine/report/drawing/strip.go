package drawing

import (
	"fmt"
	"strings"
)

// PumpedData is the pumped side: one line from a pump to where it empties.
type PumpedData struct {
	Frame
	ID      string // of the pumped pipe
	Pump    string // printed: pump "p1"
	PumpID  string
	To      string // printed: building drain "b1", 4 in, wye from the top
	ToID    string
	Size    string
	Length  string
	Devices []Device // in order of flow
}

const (
	stripWidth = 400
	stripPipe  = 92
	stripText  = 122
)

// strip is the pumped side while it is drawn, from the receiver down.
type strip struct {
	*sheet
	y float64
}

// PumpedSide draws the pumped line as a strip that is read upwards, the way
// the water goes, with every device named beside its symbol.
func PumpedSide(d PumpedData) []byte {
	s, height := pumpedSheet(d)
	return s.write(stripWidth, height)
}

func pumpedSheet(d PumpedData) (*sheet, float64) {
	if d.Title == "" {
		d.Title = "Pumped line " + d.ID
	}
	if d.Desc == "" {
		d.Desc = d.describe()
	}
	s := &strip{sheet: &sheet{frame: d.Frame}, y: 24}
	top := s.receiver(d)
	covered := false
	for i := len(d.Devices) - 1; i >= 0; i-- {
		dev := d.Devices[i]
		if dev.Inside && !covered {
			s.cover()
			covered = true
		}
		s.row(dev, d.ID, i+1)
	}
	if !covered {
		s.cover()
	}
	s.pump(d, top)
	return s.sheet, s.y + 14
}

// describe says the line in words, in order of flow.
func (d PumpedData) describe() string {
	list := make([]string, len(d.Devices))
	for i, dev := range d.Devices {
		list[i] = words(", ", deviceName(dev.Kind), dev.Detail)
	}
	devices := "no devices"
	if len(list) > 0 {
		devices = strings.Join(list, "; then ")
	}
	return fmt.Sprintf("In order of flow: %s; %s; %s.", words("", d.Pump, onlyIf(d.Pump == "", "pump")), devices,
		words("", d.To, onlyIf(d.To == "", "receiver not stated")))
}

// lines writes wrapped text from y down and returns the next free line.
func (s *strip) lines(e *element, y float64, bold bool, t, id string) float64 {
	room := float64(stripWidth - stripText - 6)
	marks, w := s.frame.marks(id, stripWidth-6-s.frame.marksWidth(id), y-4)
	e.shapes = append(e.shapes, marks...)
	if w > 0 {
		room -= w + 8
	}
	for _, l := range wrap(t, bodyText*boldSlack/plainSlack, room) {
		sh := text(stripText, y, bodyText, start, l)
		sh.bold = bold
		e.shapes = append(e.shapes, sh)
		y += 15.5
	}
	return y
}

// receiver draws the drain that receives the line and returns where the line
// ends.
func (s *strip) receiver(d PumpedData) float64 {
	e := element{id: d.ToID, ends: [2]string{d.ToID, d.ToID}, title: d.To}
	e.shapes = append(asBody(rectangle(pen{width: 1.4}, box{20, s.y - 6, 112, s.y + 6})), arrowRight(point{stripPipe - 30, s.y}, 5)...)
	top := s.y + 6
	to := d.To
	if to == "" {
		to = "receiver not stated"
	}
	s.y = max(s.lines(&e, s.y+4, false, to, d.ToID), s.y+20) + 18
	s.add(e)
	return top
}

// row draws one device with its place in the order of flow.
func (s *strip) row(dev Device, pipe string, order int) {
	c := point{stripPipe, s.y}
	e := element{id: dev.ID, owner: pipe, ends: [2]string{dev.ID, pipe}, title: deviceName(dev.Kind)}
	e.shapes = deviceShapes(dev.Kind, c, true)
	if dev.At != "" {
		e.shapes = append(e.shapes, text(stripPipe-18, s.y+4, smallText, end, dev.At))
	}
	y := s.lines(&e, s.y+4, true, fmt.Sprintf("%d  %s", order, deviceName(dev.Kind)), dev.ID)
	if dev.Detail != "" {
		for _, l := range wrap(dev.Detail, bodyText, stripWidth-stripText-6) {
			e.shapes = append(e.shapes, text(stripText, y, bodyText, start, l))
			y += 15.5
		}
	}
	s.add(e)
	s.y = max(y, s.y+22) + 14
}

// cover draws the basin cover, open where the line passes.
func (s *strip) cover() {
	y := s.y - 4
	s.furniture(rectangle(pen{fill: "falling"}, box{20, y - 3, stripPipe - 5, y + 3}), rectangle(pen{fill: "falling"}, box{stripPipe + 5, y - 3, stripText - 10, y + 3}),
		text(stripText, y+4, bodyText, start, "basin cover"))
	s.y += 26
}

// pump draws the pump and the line up to the receiver.
func (s *strip) pump(d PumpedData, top float64) {
	s.y += 6
	name := d.Pump
	if name == "" {
		name = "pump"
	}
	e := element{id: d.PumpID, ends: [2]string{d.PumpID, d.PumpID}, title: name, shapes: pumpShapes(point{stripPipe, s.y}, 12)}
	bottom := s.y - 12
	s.y = max(s.lines(&e, s.y+4, false, name, d.PumpID), s.y+16)
	s.add(e)
	pipe := element{id: d.ID, ends: [2]string{d.PumpID, d.ToID}, title: words(", ", "pumped line "+d.ID, d.Size, d.Length)}
	way := line(pumpedPen, point{stripPipe, bottom}, point{stripPipe, top})
	way.pipe = true
	pipe.shapes = append([]shape{way}, arrowUp(point{stripPipe, top + 12}, 5)...)
	s.y += 8
	pipe.shapes = append(pipe.shapes, line(pumpedPen, point{20, s.y}, point{stripText - 10, s.y}))
	label := words(", ", "pumped line", d.Size, d.Length)
	s.y = s.lines(&pipe, s.y+4, false, label, d.ID)
	s.add(pipe)
}
