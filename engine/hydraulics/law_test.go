package hydraulics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Laws of nature and of arithmetic that hold for every input. The random
// inputs are seeded, so a failure repeats.

const lawTrials = 400

func seeded() *rand.Rand { return rand.New(rand.NewPCG(1852, 4871)) }

func between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// laws gives both laws of gravity flow with roughness drawn at random.
func laws(r *rand.Rand) map[string]Law {
	return map[string]Law{
		"manning":   Manning{between(r, 0.008, 0.02)},
		"colebrook": EuropeanDrain(between(r, 0.01e-3, 1.5e-3)),
	}
}

func randomPipe(r *rand.Rand) Pipe {
	method := []FrictionMethod{ByHazenWilliams, BySwameeJain, ByColebrook}[r.IntN(3)]
	return Pipe{
		Bore: between(r, 0.03, 0.2), Length: between(r, 1, 100), K: between(r, 0, 10),
		Friction: Friction{method, between(r, 100, 150), FormSolver, between(r, 0, 0.3e-3)},
	}
}

// randomCurve falls from 5 to 30 m in two to six strictly falling steps.
func randomCurve(t *testing.T, r *rand.Rand) Curve {
	t.Helper()
	points := []CurvePoint{{0, between(r, 5, 30)}}
	for range 1 + r.IntN(5) {
		before := points[len(points)-1]
		points = append(points, CurvePoint{before.Flow + between(r, 0.2e-3, 2e-3), before.Head * between(r, 0.5, 0.98)})
	}
	return must(NewCurve(Segments, points))(t)
}

func TestCapacityGrowsWithSlopeAndSize(t *testing.T) {
	r := seeded()
	for range lawTrials {
		d, more := Drain{between(r, 0.03, 0.3), between(r, 0.002, 0.08)}, between(r, 1.01, 2)
		filling := between(r, 0.1, 1)
		for name, law := range laws(r) {
			base := must(AtFilling(d, law, filling))(t).Flow
			steeper := must(AtFilling(Drain{d.Bore, d.Slope * more}, law, filling))(t).Flow
			larger := must(AtFilling(Drain{d.Bore * more, d.Slope}, law, filling))(t).Flow
			if !(steeper > base && larger > base) {
				t.Fatalf("%s %+v at %g: %g, steeper %g, larger %g", name, d, filling, base, steeper, larger)
			}
		}
	}
}

func TestFlowRisesWithDepth(t *testing.T) {
	r := seeded()
	for range 40 {
		d := Drain{between(r, 0.03, 0.3), between(r, 0.002, 0.08)}
		for name, law := range laws(r) {
			last := 0.0
			top := must(Greatest(d, law))(t)
			if name == "manning" && math.Abs(top.Filling-0.938) > 0.0005 {
				t.Errorf("manning carries most at %g, want 0.938", top.Filling)
			}
			for filling := 0.05; filling < top.Filling; filling += 0.01 {
				q := must(AtFilling(d, law, filling))(t).Flow
				if !(q > last) {
					t.Fatalf("%s %+v: flow %g at %g, %g just below", name, d, q, filling, last)
				}
				last = q
			}
			full := must(AtFilling(d, law, 1))(t).Flow
			if !(top.Flow > full && top.Flow >= last) {
				t.Fatalf("%s %+v: greatest %g, full %g, near it %g", name, d, top.Flow, full, last)
			}
		}
	}
}

func TestDepthForFlowIsTheLowerRoot(t *testing.T) {
	r := seeded()
	for range lawTrials {
		d, filling := Drain{between(r, 0.03, 0.3), between(r, 0.002, 0.08)}, between(r, 0.05, 0.99)
		for name, law := range laws(r) {
			there := must(AtFilling(d, law, filling))(t)
			back := must(AtFlow(d, law, there.Flow))(t)
			top := must(Greatest(d, law))(t).Filling
			again := must(AtFilling(d, law, back.Filling))(t).Flow
			if back.Filling > top || math.Abs(again/there.Flow-1) > 1e-7 {
				t.Fatalf("%s %+v: flow of filling %g found at %g, which carries %g of %g", name, d, filling, back.Filling, again, there.Flow)
			}
			if filling < top-0.001 && math.Abs(back.Filling-filling) > 1e-7 {
				t.Fatalf("%s %+v: filling %g comes back as %g", name, d, filling, back.Filling)
			}
		}
	}
}

// TestManningScales: with all lengths s times larger at the same slope,
// Manning's flow is s^(8/3) times larger, whatever the unit of length.
func TestManningScales(t *testing.T) {
	r := seeded()
	for range lawTrials {
		d, law, filling := Drain{between(r, 0.03, 0.3), between(r, 0.002, 0.08)}, Manning{0.011}, between(r, 0.05, 1)
		s := between(r, 0.1, 10)
		small := must(AtFilling(d, law, filling))(t).Flow
		large := must(AtFilling(Drain{d.Bore * s, d.Slope}, law, filling))(t).Flow
		if math.Abs(large/small/math.Pow(s, 8.0/3)-1) > 1e-12 {
			t.Fatalf("scale %g: flow ratio %g, want %g", s, large/small, math.Pow(s, 8.0/3))
		}
	}
}

// TestColebrookScales is dynamic similarity: lengths s times larger, viscosity
// s^1.5 times larger at the same gravity and slope keep the Reynolds number,
// and flow grows as s^2.5. It holds for gravity and for pressure flow.
func TestColebrookScales(t *testing.T) {
	r := seeded()
	for range lawTrials {
		s := between(r, 0.2, 5)
		law := EuropeanDrain(between(r, 0.1e-3, 1e-3))
		d, filling := Drain{between(r, 0.05, 0.3), between(r, 0.002, 0.08)}, between(r, 0.1, 1)
		small := must(AtFilling(d, law, filling))(t).Flow
		law.Roughness, law.Viscosity = law.Roughness*s, law.Viscosity*math.Pow(s, 1.5)
		large := must(AtFilling(Drain{d.Bore * s, d.Slope}, law, filling))(t).Flow
		if math.Abs(large/small/math.Pow(s, 2.5)-1) > 1e-10 {
			t.Fatalf("gravity, scale %g: flow ratio %g, want %g", s, large/small, math.Pow(s, 2.5))
		}
		p, w, q := randomPipe(r), WaterAt10C(), between(r, 0.1e-3, 5e-3)
		p.Friction.Method = []FrictionMethod{BySwameeJain, ByColebrook}[r.IntN(2)]
		loss := must(p.Loss(q, w))(t).Total
		p.Bore, p.Length, p.Friction.Roughness = p.Bore*s, p.Length*s, p.Friction.Roughness*s
		w.Viscosity *= math.Pow(s, 1.5)
		if scaled := must(p.Loss(q*math.Pow(s, 2.5), w))(t).Total; math.Abs(scaled/loss/s-1) > 1e-9 {
			t.Fatalf("pressure, scale %g: loss ratio %g", s, scaled/loss)
		}
	}
}

// TestGravityMeetsPressure: a full drain at slope S loses S metres in a metre,
// so Colebrook-White and Darcy-Weisbach with Colebrook must agree.
func TestGravityMeetsPressure(t *testing.T) {
	r := seeded()
	for range lawTrials {
		d, k := Drain{between(r, 0.05, 0.3), between(r, 0.002, 0.08)}, between(r, 0.05e-3, 0.5e-3)
		q := must(AtFilling(d, ColebrookWhite{k, Viscosity20C, Gravity}, 1))(t).Flow
		p := Pipe{d.Bore, 1, 0, Friction{Method: ByColebrook, Roughness: k}}
		if loss := must(p.Loss(q, WaterAt20C()))(t).Total; math.Abs(loss/d.Slope-1) > 1e-3 {
			t.Fatalf("%+v k %g: loses %g in a metre", d, k, loss)
		}
	}
}

func TestLossRisesWithFlowAndHeadFallsAlongTheLine(t *testing.T) {
	r := seeded()
	for range lawTrials {
		p, q := randomPipe(r), math.Pow(10, between(r, -6, -2)) // laminar, transition and turbulent
		less, more := must(p.Loss(q, WaterAt10C()))(t), must(p.Loss(q*1.02, WaterAt10C()))(t)
		if !(more.Total > less.Total) {
			t.Fatalf("%+v: %g m at %g, %g m at 2 %% more", p, less.Total, q, more.Total)
		}
		if still := must(p.Loss(0, WaterAt10C()))(t); still.Total != 0 {
			t.Fatalf("%+v loses %g m without flow", p, still.Total)
		}
		line := must(GradeLine(12, q, WaterAt10C(), p, randomPipe(r), p))(t)
		for i := 1; i < len(line); i++ {
			if !(line[i] < line[i-1]) {
				t.Fatalf("grade line %v does not fall", line)
			}
		}
		if math.Abs(line[0]-line[1]-less.Total) > 1e-12 || len(line) != 4 {
			t.Fatalf("grade line %v, first pipe loses %g", line, less.Total)
		}
	}
}

func TestFrictionFactorsJoin(t *testing.T) {
	for _, relative := range []float64{0, 1e-5, 1e-3, 0.02} {
		for _, method := range []FrictionMethod{BySwameeJain, ByColebrook} {
			for _, re := range []float64{laminarLimit, turbulentLimit} {
				under := must(FrictionFactor(method, re*(1-1e-9), relative))(t)
				over := must(FrictionFactor(method, re*(1+1e-9), relative))(t)
				if math.Abs(over/under-1) > 1e-6 {
					t.Errorf("%s e/D %g jumps at Re %g from %g to %g", method, relative, re, under, over)
				}
			}
			step := 1e-3
			left := must(FrictionFactor(method, turbulentLimit-step, relative))(t)
			at := must(FrictionFactor(method, turbulentLimit, relative))(t)
			right := must(FrictionFactor(method, turbulentLimit+step, relative))(t)
			if kink := ((right - at) - (at - left)) / step; math.Abs(kink) > 1e-8 {
				t.Errorf("%s e/D %g has a kink of %g at Re 4000", method, relative, kink)
			}
		}
		for re := 4e3; re < 1e8; re *= 1.7 {
			exact, explicit := must(Colebrook(re, relative))(t), must(SwameeJain(re, relative))(t)
			x := 1 / math.Sqrt(exact)
			if left := x + 2*math.Log10(relative/3.7+2.51*x/re); math.Abs(left) > 1e-10 {
				t.Errorf("Colebrook at Re %g, e/D %g leaves %g", re, relative, left)
			}
			if math.Abs(explicit/exact-1) > 0.035 {
				t.Errorf("Re %g e/D %g: Swamee-Jain %g, Colebrook %g", re, relative, explicit, exact)
			}
		}
	}
}

func TestMoreLengthNeverRaisesFlow(t *testing.T) {
	r := seeded()
	met := 0
	for range lawTrials {
		curve, p := randomCurve(t, r), randomPipe(r)
		static := between(r, 0, 0.9*curve.First().Head)
		run := func(p Pipe) Operation {
			return must(OperatingPoint(curve, System{StaticHead: static, Common: Pipeline(WaterAt20C(), p)}, 1))(t)
		}
		short := run(p)
		p.Length *= between(r, 1, 3)
		p.K += between(r, 0, 2)
		long := run(p)
		if long.Flow > short.Flow*(1+1e-9) {
			t.Fatalf("longer line carries %g, shorter %g", long.Flow, short.Flow)
		}
		if short.Status == Found {
			met++
			if math.Abs(short.Head-short.SystemHead) > 1e-6*curve.First().Head {
				t.Fatalf("%+v: curves do not meet", short)
			}
		}
	}
	if met < lawTrials/4 {
		t.Errorf("only %d of %d systems met their pump inside the curve", met, lawTrials)
	}
}

func TestParallelPumpsNeverCarryLess(t *testing.T) {
	r := seeded()
	for range lawTrials {
		curve, p, branch := randomCurve(t, r), randomPipe(r), randomPipe(r)
		system := System{
			StaticHead: between(r, 0, curve.First().Head), Branch: Pipeline(WaterAt20C(), branch), Common: Pipeline(WaterAt20C(), p),
		}
		one, two := must(OperatingPoint(curve, system, 1))(t), must(OperatingPoint(curve, system, 2))(t)
		if two.Flow < one.Flow*(1-1e-9) {
			t.Fatalf("two pumps carry %g, one %g", two.Flow, one.Flow)
		}
		if one.Status == Found && two.Status == Found && two.PerPump > one.PerPump*(1+1e-9) {
			t.Fatalf("each of two pumps carries %g, alone %g", two.PerPump, one.PerPump)
		}
	}
}
