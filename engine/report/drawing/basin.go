package drawing

import (
	"fmt"
	"math"
	"strings"
)

// BasinData is a section of a basin. Lengths are micrometres, volumes
// millilitres; heights count from the basin floor. What is nil or empty is not
// known and not drawn.
type BasinData struct {
	Frame
	ID          string
	Name        string // printed: basin "b1"
	Round       bool
	Width       *int64 // inside diameter, or the side that is cut
	Depth       *int64 // floor to underside of cover
	Outside     *int64 // outside width at the floor
	Elevation   *int64 // of the floor
	Cover       string // "gas-tight, fastened"
	Inlet       *Inlet
	Levels      []Level // lowest first
	GroundWater *int64  // height
	Grade       *int64  // height
	Slab        *Slab
	Pumps       []string // names, as many as there are
	PumpID      string   // element id of the first pump
	Discharge   *Stub
	Vent        *Stub
	Notes       []string // printed under the section: bedding, ballast
}

// Inlet is where the drain enters.
type Inlet struct {
	ID       string // of the drain, for its marks
	Name     string // "inlet 3 in"
	Height   int64  // invert
	Diameter int64  // nominal; 0 where unknown
}

// Level is a switching level with the volume down to the level before it.
type Level struct {
	ID     string
	Kind   LevelKind
	Height int64
	Volume *int64
}

// LevelKind names a level.
type LevelKind string

// The levels.
const (
	Stop        LevelKind = "stop"
	Start       LevelKind = "start"
	SecondStart LevelKind = "second start"
	Alarm       LevelKind = "alarm"
)

// levelDash tells the levels apart by their line.
var levelDash = map[LevelKind]string{Stop: "", Start: "10 3", SecondStart: "6 3", Alarm: "10 3 2 3 2 3"}

// Slab is the concrete under the basin.
type Slab struct {
	Width     int64
	Thickness int64
}

// Stub is a pipe that leaves the basin, with its devices in order of flow.
type Stub struct {
	ID      string
	Name    string // "discharge 2 in to house drain"
	Devices []Device
}

// Device is something in line in a pipe.
type Device struct {
	ID     string
	Kind   string // as in the design: check_valve, union, cleanout …
	Detail string // "swing, above the cover"
	Inside bool   // inside the basin
	At     string // printed distance along the pipe
}

const (
	basinWidth   = 480
	leftColumn   = 108 // right edge of the labels on the left
	rightColumn  = 314
	sectionLeft  = 122
	sectionRight = 306
	labelText    = 12
	labelLine    = 14.5
	deviceStep   = 30
)

// section is a basin while it is drawn.
type section struct {
	*sheet
	data              BasinData
	scale             float64 // drawing units per micrometre
	middle, floor     float64
	cover, wall, half float64
	slabHalf          float64
	known             bool // width and depth are, so that it is to scale
	left, right       []tag
}

// tag is a label beside the section that points at a place in it.
type tag struct {
	at    point
	id    string // whose marks it carries; the element is drawn with it
	lines []string
}

// BasinSection draws the basin to scale with its levels and connections.
func BasinSection(d BasinData) []byte {
	s, height := basinSheet(d)
	return s.write(basinWidth, height)
}

func basinSheet(d BasinData) (*sheet, float64) {
	if d.Title == "" {
		d.Title = words(" ", "Section of", words("", d.Name, onlyIf(d.Name == "", "the basin")))
	}
	if d.Desc == "" {
		d.Desc = d.describe()
	}
	s := &section{sheet: &sheet{frame: d.Frame}, data: d}
	s.measure()
	s.ground()
	s.body()
	s.levels()
	s.inletStub()
	s.ventStub()
	s.dischargeStub()
	bottom := s.labels()
	s.dimensions()
	return s.sheet, s.notes(bottom)
}

// describe says the section in words.
func (d BasinData) describe() string {
	u := d.Units
	var parts []string
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	shape := "Basin"
	if d.Round {
		shape = "Round basin"
	}
	if d.Width != nil && d.Depth != nil {
		add("%s, %s wide and %s deep inside", shape, lengthText(*d.Width, u), lengthText(*d.Depth, u))
	} else {
		add("%s, width or depth not stated, not to scale", shape)
	}
	if d.Cover != "" {
		add("cover %s", d.Cover)
	}
	if d.Inlet != nil {
		add("%s, invert %s above the floor", d.Inlet.name(), lengthText(d.Inlet.Height, u))
	}
	for _, l := range d.Levels {
		add("%s at %s", l.Kind, lengthText(l.Height, u))
	}
	if d.GroundWater != nil {
		add("ground water at %s above the floor", lengthText(*d.GroundWater, u))
	}
	for _, stub := range []*Stub{d.Discharge, d.Vent} {
		if stub == nil {
			continue
		}
		list := make([]string, len(stub.Devices))
		for i, dev := range stub.Devices {
			list[i] = deviceName(dev.Kind)
		}
		add("%s%s", stub.Name, onlyIf(len(list) > 0, " with "+strings.Join(list, ", ")))
	}
	return strings.Join(parts, "; ") + "."
}

func (i Inlet) name() string {
	if i.Name == "" {
		return "inlet"
	}
	return i.Name
}

// measure chooses the scale and where the section stands.
func (s *section) measure() {
	d := s.data
	width, depth := int64(610000), int64(914000) // stand-ins where unknown: not to scale then
	s.known = d.Width != nil && d.Depth != nil && *d.Width > 0 && *d.Depth > 0
	if s.known {
		width, depth = *d.Width, *d.Depth
	}
	outside := width
	if d.Outside != nil {
		outside = max(outside, *d.Outside)
	}
	widest := outside
	if d.Slab != nil {
		widest = max(widest, d.Slab.Width)
	}
	const room = sectionRight - sectionLeft - 30
	s.scale = math.Min(room/float64(widest), 300/float64(depth))
	s.middle = (sectionLeft+sectionRight)/2 + 8
	s.half = float64(width) / 2 * s.scale
	s.wall = math.Max(3, float64(outside-width)/2*s.scale)
	if d.Slab != nil {
		s.slabHalf = float64(d.Slab.Width) / 2 * s.scale
	}
	above := 0
	if d.Discharge != nil {
		for _, dev := range d.Discharge.Devices {
			if !dev.Inside {
				above++
			}
		}
	}
	s.cover = 84 + float64(above)*deviceStep
	if g := d.GroundWater; g != nil { // a line above the cover must clear the top
		s.cover = math.Max(s.cover, float64(*g-depth)*s.scale+40)
	}
	s.floor = s.cover + float64(depth)*s.scale
}

// y is the place of a height above the floor.
func (s *section) y(height int64) float64 { return s.floor - float64(height)*s.scale }

// elevation adds the elevation of a height where the floor's is known.
func (s *section) elevation(height int64) string {
	if s.data.Elevation == nil {
		return ""
	}
	return "elev. " + lengthText(*s.data.Elevation+height, s.data.Units)
}

// ground draws grade and ground water beside the basin.
func (s *section) ground() {
	d := s.data
	outer := s.half + s.wall
	if d.Grade != nil {
		y := s.y(*d.Grade)
		var shapes []shape
		for _, side := range [][2]float64{{sectionLeft + 2, s.middle - outer}, {s.middle + outer, sectionRight - 6}} {
			shapes = append(shapes, line(pen{width: 1.6}, point{side[0], y}, point{side[1], y}))
			for x := side[0] + 6; x < side[1]-2; x += 7 {
				shapes = append(shapes, line(pen{width: 0.6}, point{x, y}, point{x - 5, y + 6}))
			}
		}
		s.furniture(shapes...)
		s.left = append(s.left, tag{at: point{sectionLeft + 2, y}, lines: nonEmpty("floor or grade", s.elevation(*d.Grade))})
	}
	if d.GroundWater != nil {
		y := s.y(*d.GroundWater)
		water := pen{width: 1.2, dash: "12 3 3 3"}
		x := s.middle + outer + 12
		s.furniture(line(water, point{sectionLeft + 2, y}, point{s.middle - outer, y}), line(water, point{s.middle + outer, y}, point{sectionRight - 6, y}),
			closed(pen{}, point{x - 4, y - 7}, point{x + 4, y - 7}, point{x, y}))
		s.left = append(s.left, tag{at: point{sectionLeft + 2, y}, lines: nonEmpty("highest ground water", s.elevation(*d.GroundWater))})
	}
}

func nonEmpty(list ...string) []string {
	var out []string
	for _, s := range list {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// body draws walls, cover, slab and pumps.
func (s *section) body() {
	d, m, w := s.data, s.middle, s.wall
	in, out := s.half, s.half+s.wall
	walls := closed(pen{fill: "rising"}, point{m - out, s.cover}, point{m - in, s.cover}, point{m - in, s.floor}, point{m + in, s.floor},
		point{m + in, s.cover}, point{m + out, s.cover}, point{m + out, s.floor + w}, point{m - out, s.floor + w})
	shapes := []shape{walls, rectangle(pen{fill: "falling"}, box{m - out - 4, s.cover - 6, m + out + 4, s.cover})}
	if d.Slab != nil {
		t := float64(d.Slab.Thickness) * s.scale
		shapes = append(shapes, rectangle(pen{fill: "dots"}, box{m - s.slabHalf, s.floor + w, m + s.slabHalf, s.floor + w + t}))
		s.right = append(s.right, tag{at: point{m + s.slabHalf, s.floor + w + t/2}, lines: []string{
			fmt.Sprintf("slab %s x %s", lengthText(d.Slab.Width, d.Units), lengthText(d.Slab.Thickness, d.Units))}})
	}
	s.add(element{id: d.ID, title: words(" ", d.Name, onlyIf(d.Name == "", "basin")), shapes: shapes})
	s.right = append(s.right, tag{at: point{m + out + 4, s.cover - 3}, id: d.ID, lines: nonEmpty(words(", ", "cover", d.Cover))})
	floor := "floor"
	if e := s.elevation(0); e != "" {
		floor += ", " + e
	}
	s.right = append(s.right, tag{at: point{m + in, s.floor}, lines: []string{floor}})
	s.pumps()
}

// pumps stand on the floor in the right half.
func (s *section) pumps() {
	d := s.data
	for i := range d.Pumps {
		r := s.pumpRadius()
		c := point{s.pumpX() - float64(i)*(2*r+5), s.floor - r - 1}
		e := element{title: "pump " + d.Pumps[i], shapes: []shape{circle(pen{width: 1.4}, c, r),
			closed(pen{fill: "ink"}, c.plus(-r*0.5, r*0.45), c.plus(0, -r*0.75), c.plus(r*0.5, r*0.45))}}
		if i == 0 {
			e.id = d.PumpID
			s.right = append(s.right, tag{at: c.plus(r, 0), id: d.PumpID, lines: []string{strings.Join(d.Pumps, ", ")}})
		}
		s.add(e)
	}
}

func (s *section) pumpX() float64 { return s.middle + s.half*0.62 }

func (s *section) pumpRadius() float64 { return math.Min(11, s.half/5) }
