package hydraulics

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// worked computes the example on the left of a "Worked:" line from the numbers
// written there, in order. Names and numbers come from the doc comments, so a
// comment that drifts from the code fails.
var worked = map[string]func(t *testing.T, n []float64, text string) float64{
	"Fall":       func(t *testing.T, n []float64, _ string) float64 { return must(Fall(n[0], n[1]))(t) },
	"SlopeOf":    func(t *testing.T, n []float64, _ string) float64 { return must(SlopeOf(n[0], n[1]))(t) },
	"RunFor":     func(t *testing.T, n []float64, _ string) float64 { return must(RunFor(n[0], n[1]))(t) },
	"InvertAt":   func(t *testing.T, n []float64, _ string) float64 { return must(InvertAt(n[0], n[1], n[2]))(t) },
	"Reynolds":   func(t *testing.T, n []float64, _ string) float64 { return must(Reynolds(n[0], n[1], n[2]))(t) },
	"SwameeJain": func(t *testing.T, n []float64, _ string) float64 { return must(SwameeJain(n[0], n[1]))(t) },
	"Colebrook":  func(t *testing.T, n []float64, _ string) float64 { return must(Colebrook(n[0], n[1]))(t) },
	"FrictionFactor": func(t *testing.T, n []float64, text string) float64 {
		return must(FrictionFactor(FrictionMethod(quoted(text)), n[0], n[1]))(t)
	},
	"HazenWilliams": func(t *testing.T, n []float64, text string) float64 {
		return must(HazenWilliams(HazenWilliamsForm(quoted(text)), n[0], n[1], n[2], n[3]))(t)
	},
	"DarcyWeisbach": func(t *testing.T, n []float64, _ string) float64 {
		return must(DarcyWeisbach(n[0], n[1], n[2], n[3], n[4]))(t)
	},
	"FullVelocity": func(t *testing.T, n []float64, _ string) float64 { return must(FullVelocity(n[0], n[1]))(t) },
	"MinorLoss":    func(t *testing.T, n []float64, _ string) float64 { return must(MinorLoss(n[0], n[1], n[2]))(t) },
	"Pipe.Loss": func(t *testing.T, n []float64, _ string) float64 {
		return must(workedPipe(n[1:]).Loss(n[0], WaterAt20C()))(t).Total
	},
	"GradeLine": func(t *testing.T, n []float64, _ string) float64 {
		return must(GradeLine(n[0], n[1], WaterAt20C(), workedPipe(n[2:])))(t)[int(n[6])]
	},
	"SuddenEnlargement": func(t *testing.T, n []float64, _ string) float64 { return must(SuddenEnlargement(n[0], n[1]))(t) },
	"EquivalentLength":  func(t *testing.T, n []float64, _ string) float64 { return must(EquivalentLength(n[0], n[1], n[2]))(t) },
	"FittingLoss.OnPipe": func(t *testing.T, n []float64, text string) float64 {
		words := strings.Split(text, `"`)
		f, ok := FindFitting(FittingTable(words[1]), words[3])
		_, length, sized := f.OnPipe(int(n[0]), n[1])
		if !ok || !sized {
			t.Fatalf("no row for %s", text)
		}
		return length
	},
	"SectionAt": func(t *testing.T, n []float64, text string) float64 {
		s := must(SectionAt(n[0], n[1]))(t)
		if strings.Contains(text, ".Area") {
			return s.Area
		}
		return s.HydraulicRadius
	},
	"AtFilling": func(t *testing.T, n []float64, text string) float64 {
		return must(AtFilling(Drain{n[0], n[1]}, workedLaw(text, n[2]), n[3]))(t).Flow
	},
	"Greatest": func(t *testing.T, n []float64, text string) float64 {
		return must(Greatest(Drain{n[0], n[1]}, workedLaw(text, n[2])))(t).Filling
	},
	"AtFlow": func(t *testing.T, n []float64, text string) float64 {
		f := must(AtFlow(Drain{n[0], n[1]}, workedLaw(text, n[2]), n[3]))(t)
		if strings.Contains(text, ".Velocity") {
			return f.Velocity
		}
		return f.Filling
	},
	"Manning.Velocity": func(t *testing.T, n []float64, _ string) float64 { return must(Manning{n[0]}.Velocity(n[1], n[2]))(t) },
	"ColebrookWhite.Velocity": func(t *testing.T, n []float64, _ string) float64 {
		return must(ColebrookWhite{n[0], n[1], n[2]}.Velocity(n[3], n[4]))(t)
	},
	"SelfCleansing": func(t *testing.T, n []float64, _ string) float64 { return must(SelfCleansing(n[0], n[1]))(t) },
	"SlopeForVelocity": func(t *testing.T, n []float64, text string) float64 {
		return must(SlopeForVelocity(n[0], n[1], workedLaw(text, n[2]), n[3]))(t)
	},
	"NewCurve": func(t *testing.T, n []float64, text string) float64 {
		return must(workedCurve(t, quoted(text), n).HeadAt(n[6]))(t)
	},
	"Curve.HeadAt": func(t *testing.T, n []float64, text string) float64 {
		return must(workedCurve(t, quoted(text), n).HeadAt(n[6]))(t)
	},
	"ShaftPower": func(t *testing.T, n []float64, _ string) float64 {
		return must(ShaftPower(n[0], n[1], n[2], Water{n[3], Viscosity20C, n[4]}))(t)
	},
	"System.HeadAt": func(t *testing.T, n []float64, _ string) float64 {
		common := func(flow float64) (float64, error) { return n[1] * flow * flow, nil }
		return must(System{StaticHead: n[0], Common: common}.HeadAt(n[2], 1))(t)
	},
	"OperateTogether": func(t *testing.T, n []float64, _ string) float64 {
		curve := workedCurve(t, "segments", n)
		branch, common := Pipeline(SolverWater(), workedPipe(n[7:11])), Pipeline(SolverWater(), workedPipe(n[11:15]))
		return must(OperateTogether([]Unit{{curve, branch}, {curve, branch}}, n[6], common))(t).Flow
	},
	"OperatingPoint": func(t *testing.T, n []float64, _ string) float64 {
		system := System{StaticHead: n[6], Common: Pipeline(WaterAt20C(), workedPipe(n[7:]))}
		return must(OperatingPoint(workedCurve(t, "segments", n), system, 1))(t).Flow
	},
	"Round.VolumeTo": func(t *testing.T, n []float64, _ string) float64 { return must(Round{n[0]}.VolumeTo(n[1]))(t) },
	"Rectangular.VolumeTo": func(t *testing.T, n []float64, _ string) float64 {
		return must(Rectangular{n[0], n[1]}.VolumeTo(n[2]))(t)
	},
	"Tapered.VolumeTo": func(t *testing.T, n []float64, _ string) float64 {
		return must(Tapered{n[0], n[1], n[2]}.VolumeTo(n[3]))(t)
	},
	"VolumeBetween": func(t *testing.T, n []float64, _ string) float64 {
		return must(VolumeBetween(Round{n[0]}, n[1], n[2]))(t)
	},
	"PipeVolume": func(t *testing.T, n []float64, _ string) float64 { return must(PipeVolume(n[0], n[1]))(t) },
	"Retention":  func(t *testing.T, n []float64, _ string) float64 { return must(Retention(n[0], n[1]))(t) },
	"LevelRise":  func(t *testing.T, n []float64, _ string) float64 { return must(LevelRise(n[0], n[1], n[2]))(t) },
	"Duty.At": func(t *testing.T, n []float64, text string) float64 {
		c := must(Duty{n[0], n[1], n[2]}.At(n[3]))(t)
		if strings.Contains(text, ".Fill") {
			return c.Fill
		}
		return c.Total
	},
	"Duty.Worst": func(t *testing.T, n []float64, text string) float64 {
		c := must(Duty{n[0], n[1], n[2]}.Worst())(t)
		switch {
		case strings.Contains(text, ".Inflow"):
			return c.Inflow
		case strings.Contains(text, ".StartsPerHour"):
			return c.StartsPerHour
		}
		return c.Total
	},
	"VolumeForStarts": func(t *testing.T, n []float64, _ string) float64 { return must(VolumeForStarts(n[0], n[1]))(t) },
	"StartsEach":      func(t *testing.T, n []float64, _ string) float64 { return must(StartsEach(n[0], int(n[1])))(t) },
	"Buried.Balance": func(t *testing.T, n []float64, _ string) float64 {
		circle := func(d float64) float64 { return math.Pi / 4 * d * d * inch * inch }
		return must(Buried{
			BasinArea: circle(n[0]), BasinHeight: n[1] * inch, BasinWeight: n[2] * pound, SlabArea: circle(n[3]), SlabHeight: n[4] * inch,
			Water: UnitWeightWater, Concrete: UnitWeightConcrete, SoilSoaked: n[5] * poundPerCubicFoot, SoilMoist: n[5] * poundPerCubicFoot,
		}.Balance())(t).Factor
	},
	"BallastWeight": func(t *testing.T, n []float64, _ string) float64 {
		return must(BallastWeight(Uplift{Force: n[0], Resisting: n[1]}, n[2]))(t)
	},
	"BallastVolume": func(t *testing.T, n []float64, _ string) float64 {
		return must(BallastVolume(Uplift{Force: n[0], Resisting: n[1]}, n[2], n[3], n[4]))(t)
	},
	"SubmergedFromDry": func(t *testing.T, n []float64, _ string) float64 { return must(SubmergedFromDry(n[0], n[1]))(t) },
	"FlowTable.FlowAt": func(t *testing.T, n []float64, _ string) float64 { return must(DemandTank().FlowAt(n[0]))(t).Flow },
	"FlowTable.LoadAt": func(t *testing.T, n []float64, _ string) float64 { return must(DemandTank().LoadAt(n[0]))(t) },
	"LoadOfRate":       func(t *testing.T, n []float64, _ string) float64 { return must(LoadOfRate(n[0], n[1]))(t) },
	"DischargeUnits": func(t *testing.T, n []float64, text string) float64 {
		f := must(DischargeUnits(n[0], n[1:4], n[4], n[5]))(t)
		if strings.Contains(text, ".Formula") {
			return f.Formula
		}
		return f.Total
	},
}

// workedPipe reads bore, length, C and K.
func workedPipe(n []float64) Pipe {
	return Pipe{n[0], n[1], n[3], Friction{Method: ByHazenWilliams, C: n[2], Form: FormSolver}}
}

func workedLaw(text string, coefficient float64) Law {
	if strings.Contains(text, ", k ") {
		return EuropeanDrain(coefficient)
	}
	return Manning{coefficient}
}

// workedCurve reads three points of flow and head.
func workedCurve(t *testing.T, interpolation string, n []float64) Curve {
	t.Helper()
	return must(NewCurve(Interpolation(interpolation), []CurvePoint{{n[0], n[1]}, {n[2], n[3]}, {n[4], n[5]}}))(t)
}

func quoted(text string) string { return strings.Split(text, `"`)[1] }

var (
	workedLine = regexp.MustCompile(`(?m)^Worked: ((?:[A-Za-z]+\.)?[A-Za-z]+)(\(.*) = (\S+)$`)
	numberWord = regexp.MustCompile(`(?:^|[\s(;\[,])(-?\d+(?:\.\d+)?(?:e-?\d+)?)`)
)

// TestWorkedValues computes every worked line of the package and compares it
// to the last digit printed.
func TestWorkedValues(t *testing.T) {
	used := map[string]bool{}
	for _, f := range documented(t) {
		for _, m := range workedLine.FindAllStringSubmatch(f.doc, -1) {
			name, text, printed := m[1], m[2], m[3]
			compute, ok := worked[name]
			if !ok || name != f.name {
				t.Errorf("%s: worked line names %s, which the test cannot compute", f.name, name)
				continue
			}
			used[name] = true
			want, err := strconv.ParseFloat(printed, 64)
			if err != nil {
				t.Errorf("%s: %v", f.name, err)
				continue
			}
			if got := compute(t, numbersOf(text), text); math.Abs(got-want) > 0.51*lastPlace(printed) {
				t.Errorf("%s%s = %.8g, the comment says %s", name, text, got, printed)
			}
		}
	}
	for name := range worked {
		if !used[name] {
			t.Errorf("%s has no worked line", name)
		}
	}
}

// numbersOf takes the numbers of an argument list; quoted words and the result
// selector are left out.
func numbersOf(text string) []float64 {
	text = regexp.MustCompile(`"[^"]*"|_\w+|\(gpm\)\^2`).ReplaceAllString(text, "")
	var numbers []float64
	for _, m := range numberWord.FindAllStringSubmatch(text, -1) {
		v, _ := strconv.ParseFloat(m[1], 64)
		numbers = append(numbers, v)
	}
	return numbers
}

// lastPlace is the value of one unit in the last printed digit.
func lastPlace(printed string) float64 {
	mantissa, exponent, _ := strings.Cut(printed, "e")
	_, decimals, _ := strings.Cut(mantissa, ".")
	power, _ := strconv.Atoi(exponent)
	return math.Pow(10, float64(power-len(decimals)))
}

type documentedFunc struct{ name, doc string }

// documented lists the exported functions and methods of the package.
func documented(t *testing.T) []documentedFunc {
	t.Helper()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	var found []documentedFunc
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, parser.ParseComments)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Name.IsExported() {
				found = append(found, documentedFunc{funcName(f), f.Doc.Text()})
			}
		}
	}
	return found
}

func funcName(f *ast.FuncDecl) string {
	if f.Recv == nil {
		return f.Name.Name
	}
	receiver := f.Recv.List[0].Type
	if star, ok := receiver.(*ast.StarExpr); ok {
		receiver = star.X
	}
	return receiver.(*ast.Ident).Name + "." + f.Name.Name
}

// notFormulas are exported functions that hold data or plumbing.
var notFormulas = []string{
	"Bore", "CapacityError.Error", "ConvergenceError.Error", "Curve.First", "Curve.Last", "DemandTank",
	"DemandTankModelCode", "DemandValve", "EuropeanDrain", "Exactly", "FindFitting", "FindPipeSize", "FittingNames",
	"HazenWilliamsRange", "InputError.Error", "ManningRange", "Materials", "NewFlowTable", "NewRange", "Pipeline",
	"Range.Contains", "Range.Plus", "Range.Through", "RangeError.Error", "Sizes", "SolverWater", "WallRoughnessRange",
	"WaterAt10C", "WaterAt20C",
}

// TestFormulaComments holds every exported formula to its four statements.
func TestFormulaComments(t *testing.T) {
	for _, f := range documented(t) {
		if slices.Contains(notFormulas, f.name) {
			if strings.Contains(f.doc, "Worked:") {
				t.Errorf("%s is listed as no formula but has a worked line", f.name)
			}
			continue
		}
		for _, part := range []string{"\nSource: ", "\nSymbols: ", "\nValid: ", "\nWorked: "} {
			if !strings.Contains(f.doc, part) {
				t.Errorf("%s: comment lacks %q", f.name, strings.TrimSpace(part))
			}
		}
	}
}
