package drafting_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"testing"

	"backpitch/engine"
	"backpitch/engine/drafting"
	"backpitch/engine/report/drawing"
	"backpitch/policies"
)

func source(t *testing.T, design, profile string) drafting.Source {
	t.Helper()
	data, err := os.ReadFile("../../testdata/designs/" + design)
	if err != nil {
		t.Fatal(err)
	}
	w := engine.New(engine.Options{Policies: policies.FS()}).Work(context.Background(), engine.Submission{Name: design, Data: data}, profile)
	if w.Record == nil {
		t.Fatalf("%v %v", w.Review.Failure, w.Review.Problems)
	}
	return drafting.Source{Design: w.Design, Facts: w.Facts, Record: w.Record, Findings: w.Review.Findings, Units: w.Units}
}

// The chart shows what the facts say: the operating point is the pump's rate
// and head, and lies on the expected system curve between its neighbours.
func TestPumpChartAgreesWithFacts(t *testing.T) {
	s := source(t, "pottery-studio.json", "ipc-2021")
	list := drafting.Pumps(s)
	if len(list) != 1 {
		t.Fatalf("%d charts", len(list))
	}
	d, p := list[0], s.Facts.Pumps[0]
	at := d.Operating[0].At
	if at.Flow != *p.Rate || at.Head != *p.Head || *d.Static != *p.StaticHead {
		t.Errorf("drawn %+v, facts %d mL/s at %d um", at, *p.Rate, *p.Head)
	}
	for i := 1; i < len(d.Expected); i++ {
		a, b := d.Expected[i-1], d.Expected[i]
		if a.Flow <= at.Flow && at.Flow <= b.Flow && (at.Head < a.Head-100 || at.Head > b.Head+100) {
			t.Errorf("the point %+v is off the curve between %+v and %+v", at, a, b)
		}
	}
	last := len(d.Expected) - 1
	if !(d.Low[last].Head < d.Expected[last].Head && d.Expected[last].Head < d.High[last].Head) {
		t.Error("the band is not in order: low loss, expected, high loss")
	}
	if d.LeastFlow == nil || *d.LeastFlow != 1325 { // 21 gpm
		t.Errorf("least rate %v", d.LeastFlow)
	}
}

// The volumes in the section add up to the drawdown and the reserve's start.
func TestBasinSectionAgreesWithFacts(t *testing.T) {
	s := source(t, "pottery-studio.json", "en-12056")
	d, b := drafting.Basins(s)[0], s.Facts.Basins[0]
	if len(d.Levels) != 3 || d.Levels[1].Kind != drawing.Start || *d.Levels[1].Volume != *b.Drawdown {
		t.Errorf("levels %+v, drawdown %d", d.Levels, *b.Drawdown)
	}
	if d.Inlet == nil || d.Inlet.Height != *b.InletHeight || *d.GroundWater != 762000 { // 30 in over the floor
		t.Errorf("inlet %+v, ground water %v", d.Inlet, d.GroundWater)
	}
}

// Every design gives drawings that are well-formed XML, however little it states.
func TestEveryDesignDraws(t *testing.T) {
	for _, design := range []string{"pottery-studio.json", "pottery-studio-flawed.json", "pottery-studio-sketch.json", "bases/workshop.json"} {
		for _, profile := range []string{"ipc-2021", "en-12056"} {
			s := source(t, design, profile)
			images := [][]byte{drawing.Riser(drafting.Riser(s))}
			for _, d := range drafting.Pumps(s) {
				images = append(images, drawing.PumpChart(d))
			}
			for _, d := range drafting.Basins(s) {
				images = append(images, drawing.BasinSection(d))
			}
			for _, svg := range images {
				for dec := xml.NewDecoder(bytes.NewReader(svg)); ; {
					if _, err := dec.Token(); errors.Is(err, io.EOF) {
						break
					} else if err != nil {
						t.Fatalf("%s under %s: %v", design, profile, err)
					}
				}
			}
		}
	}
}
