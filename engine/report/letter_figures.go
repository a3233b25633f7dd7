package report

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"backpitch/engine/report/drawing"
)

// calcStep is one line of the pump calculation.
type calcStep struct {
	For     string
	Title   string // of the formula
	Formula string
	Numbers string // the formula with the numbers put in
	Result  string
	Judged  string
}

// plate is one drawing of a letter.
type plate struct {
	N      int
	Anchor string
	Prefix string // of the elements in it
	Title  string
	Wide   bool
	SVG    []byte
}

// figures takes from the calculation sheet the schedule of fixture units and
// what concerns the pump, its line and its basin.
func (l *letter) figures(d *Detail) {
	if d.Sheet == nil {
		return
	}
	for _, t := range d.Sheet.Tables {
		switch t.About {
		case "fixtures", "loads":
			l.Loads = append(l.Loads, t)
		case "pump", "basin":
			l.Pumped = append(l.Pumped, t)
		}
	}
	pumped := d.pumpedSide()
	for _, f := range d.Sheet.Formulas {
		for _, s := range d.Sheet.Steps {
			if s.Formula != f.ID || !slices.Contains(pumped, s.Subject) {
				continue
			}
			var judged []string
			for _, j := range s.Judged {
				judged = append(judged, judgedText(j))
			}
			l.Steps = append(l.Steps, calcStep{
				For: stepName(s), Title: f.Title, Formula: f.Result.Name + " = " + f.Expression,
				Numbers: f.Result.Name + " = " + s.Substituted, Result: amount(s), Judged: strings.Join(judged, "; "),
			})
		}
	}
	for _, g := range d.Sheet.Gaps {
		if slices.Contains(pumped, g.Subject) {
			l.Gaps = append(l.Gaps, g)
		}
	}
}

// pumpedSide lists the elements that the pump calculation is about.
func (d *Detail) pumpedSide() []string {
	var ids []string
	for _, x := range d.Lines {
		ids = append(ids, x.ID, x.PumpID)
	}
	for _, x := range d.Basins {
		ids = append(ids, x.ID)
	}
	for _, x := range d.Pumps {
		ids = append(ids, x.ID)
	}
	return ids
}

// draw makes the drawings, with the numbers of the items on their elements, and
// notes for each item where its number stands.
func (l *letter) draw(d *Detail) {
	if r := d.Riser; r != nil && len(r.Pipes) > 0 {
		data := *r
		l.plate("Riser diagram", func(f drawing.Frame) []byte { data.Frame = f; return drawing.Riser(data) }, r.Frame)
	}
	for _, data := range d.Lines {
		l.plate(`Pumped line "`+data.ID+`"`, func(f drawing.Frame) []byte { data.Frame = f; return drawing.PumpedSide(data) }, data.Frame)
	}
	for _, data := range d.Basins {
		l.plate(`Section of basin "`+data.ID+`"`, func(f drawing.Frame) []byte { data.Frame = f; return drawing.BasinSection(data) }, data.Frame)
	}
	for _, data := range d.Pumps {
		l.plate(`Pump "`+data.ID+`" and its line`, func(f drawing.Frame) []byte { data.Frame = f; return drawing.PumpChart(data) }, data.Frame)
	}
	l.eachItem(func(i *item) {
		for _, s := range i.Spots {
			l.link(i, s)
		}
	})
}

// wideFrom is the width from which a drawing gets a page of its own on paper.
const wideFrom = 700

func (l *letter) plate(title string, draw func(drawing.Frame) []byte, f drawing.Frame) {
	p := plate{N: len(l.Plates) + 1, Title: title}
	p.Anchor = l.Prefix + "drawing-" + strconv.Itoa(p.N)
	p.Prefix = l.Prefix + "d" + strconv.Itoa(p.N) + "-"
	f.Prefix, f.Marks = p.Prefix, l.marks
	p.SVG = draw(f)
	width, _ := drawing.ViewBox(p.SVG)
	p.Wide = width >= wideFrom
	l.Plates = append(l.Plates, p)
}

// link adds to a spot the drawings that show its element with the item's number.
func (l *letter) link(i *item, s *spot) {
	for _, p := range l.Plates {
		anchor := drawing.ElementID(p.Prefix, s.Element)
		if bytes.Contains(p.SVG, []byte(`id="`+anchor+`"`)) && bytes.Contains(p.SVG, []byte(`href="#`+i.Anchor+`"`)) {
			s.Links = append(s.Links, plateLink{anchor, p.N})
		}
	}
}

// eachItem calls f with every numbered item in its order.
func (l *letter) eachItem(f func(*item)) {
	lists := [][]item{l.Open, l.Decide, l.Approved, l.Existing, l.Site}
	for _, t := range slices.Backward(l.Topics) {
		lists = slices.Insert(lists, 0, t.Items)
	}
	for _, list := range lists {
		for n := range list {
			f(&list[n])
		}
	}
}
