package hydraulics

import (
	"errors"
	"math"
	"testing"
)

// formulas with arguments that hold; each argument in turn is then spoiled.
var formulas = []struct {
	name  string
	valid []float64
	from  func(a []float64) (float64, error)
	signs string // one letter an argument: + positive, 0 zero too, - any sign
}{
	{"Fall", []float64{10, 0.02}, func(a []float64) (float64, error) { return Fall(a[0], a[1]) }, "0-"},
	{"SlopeOf", []float64{0.2, 10}, func(a []float64) (float64, error) { return SlopeOf(a[0], a[1]) }, "-+"},
	{"RunFor", []float64{0.2, 0.02}, func(a []float64) (float64, error) { return RunFor(a[0], a[1]) }, "0+"},
	{"InvertAt", []float64{1, 2, 0.02}, func(a []float64) (float64, error) { return InvertAt(a[0], a[1], a[2]) }, "-0-"},
	{"AtFilling", []float64{0.1, 0.02, 0.009, 0.5}, func(a []float64) (float64, error) {
		f, err := AtFilling(Drain{a[0], a[1]}, Manning{a[2]}, a[3])
		return f.Flow, err
	}, "+++0"},
	{"AtFlow", []float64{0.1, 0.02, 0.5e-3, 1.3e-6, 9.8, 0.002}, func(a []float64) (float64, error) {
		f, err := AtFlow(Drain{a[0], a[1]}, ColebrookWhite{a[2], a[3], a[4]}, a[5])
		return f.Velocity, err
	}, "++0++0"},
	{"Greatest", []float64{0.1, 0.02, 0.009}, func(a []float64) (float64, error) {
		f, err := Greatest(Drain{a[0], a[1]}, Manning{a[2]})
		return f.Flow, err
	}, "+++"},
	{"SectionAt", []float64{0.1, 0.5}, func(a []float64) (float64, error) { s, err := SectionAt(a[0], a[1]); return s.Area, err }, "+0"},
	{"Manning.Velocity", []float64{0.01, 0.02, 0.02}, func(a []float64) (float64, error) { return Manning{a[0]}.Velocity(a[1], a[2]) }, "+++"},
	{"SelfCleansing", []float64{0.6, 0.7}, func(a []float64) (float64, error) { return SelfCleansing(a[0], a[1]) }, "0+"},
	{"SlopeForVelocity", []float64{0.1, 1, 0.01, 0.7}, func(a []float64) (float64, error) {
		return SlopeForVelocity(a[0], a[1], Manning{a[2]}, a[3])
	}, "++++"},
	{"Reynolds", []float64{1, 0.05, 1e-6}, func(a []float64) (float64, error) { return Reynolds(a[0], a[1], a[2]) }, "0++"},
	{"SwameeJain", []float64{1e5, 1e-4}, func(a []float64) (float64, error) { return SwameeJain(a[0], a[1]) }, "+0"},
	{"Colebrook", []float64{1e5, 1e-4}, func(a []float64) (float64, error) { return Colebrook(a[0], a[1]) }, "+0"},
	{"FrictionFactor", []float64{3e3, 1e-4}, func(a []float64) (float64, error) { return FrictionFactor(ByColebrook, a[0], a[1]) }, "+0"},
	{"HazenWilliams", []float64{0.002, 0.05, 10, 140}, func(a []float64) (float64, error) {
		return HazenWilliams(FormSI, a[0], a[1], a[2], a[3])
	}, "0+0+"},
	{"DarcyWeisbach", []float64{0.02, 10, 0.05, 1, 9.8}, func(a []float64) (float64, error) {
		return DarcyWeisbach(a[0], a[1], a[2], a[3], a[4])
	}, "00+0+"},
	{"FullVelocity", []float64{0.002, 0.05}, func(a []float64) (float64, error) { return FullVelocity(a[0], a[1]) }, "0+"},
	{"MinorLoss", []float64{2, 1, 9.8}, func(a []float64) (float64, error) { return MinorLoss(a[0], a[1], a[2]) }, "00+"},
	{"Pipe.Loss", []float64{0.002, 0.05, 10, 3, 1e-4, 1000, 1e-6, 9.8}, func(a []float64) (float64, error) {
		l, err := Pipe{a[1], a[2], a[3], Friction{Method: ByColebrook, Roughness: a[4]}}.Loss(a[0], Water{a[5], a[6], a[7]})
		return l.Total, err
	}, "0+000+++"},
	{"SuddenEnlargement", []float64{0.05, 0.08}, func(a []float64) (float64, error) { return SuddenEnlargement(a[0], a[1]) }, "++"},
	{"EquivalentLength", []float64{1, 0.05, 0.02}, func(a []float64) (float64, error) { return EquivalentLength(a[0], a[1], a[2]) }, "0++"},
	{"ShaftPower", []float64{0.002, 8, 0.5}, func(a []float64) (float64, error) {
		return ShaftPower(a[0], a[1], a[2], WaterAt20C())
	}, "00+"},
	{"System.HeadAt", []float64{3, 0.002}, func(a []float64) (float64, error) { return System{StaticHead: a[0]}.HeadAt(a[1], 1) }, "-0"},
	{"Round", []float64{0.6, 1}, func(a []float64) (float64, error) { return Round{a[0]}.VolumeTo(a[1]) }, "+0"},
	{"Rectangular", []float64{0.6, 0.8, 1}, func(a []float64) (float64, error) { return Rectangular{a[0], a[1]}.VolumeTo(a[2]) }, "++0"},
	{"Tapered", []float64{0.5, 0.7, 1, 0.5}, func(a []float64) (float64, error) { return Tapered{a[0], a[1], a[2]}.VolumeTo(a[3]) }, "+++0"},
	{"VolumeBetween", []float64{0.6, 0.1, 0.4}, func(a []float64) (float64, error) { return VolumeBetween(Round{a[0]}, a[1], a[2]) }, "+0+"},
	{"PipeVolume", []float64{0.05, 12}, func(a []float64) (float64, error) { return PipeVolume(a[0], a[1]) }, "+0"},
	{"Retention", []float64{0.1, 1e-4}, func(a []float64) (float64, error) { return Retention(a[0], a[1]) }, "0+"},
	{"LevelRise", []float64{0.002, 0.001, 0.3}, func(a []float64) (float64, error) { return LevelRise(a[0], a[1], a[2]) }, "00+"},
	{"Duty.At", []float64{0.1, 0.02, 0.002, 0.001}, func(a []float64) (float64, error) {
		c, err := Duty{a[0], a[1], a[2]}.At(a[3])
		return c.Total, err
	}, "+0+0"},
	{"Duty.Worst", []float64{0.1, 0.02, 0.002}, func(a []float64) (float64, error) {
		c, err := Duty{a[0], a[1], a[2]}.Worst()
		return c.Total, err
	}, "+0+"},
	{"VolumeForStarts", []float64{0.002, 10}, func(a []float64) (float64, error) { return VolumeForStarts(a[0], a[1]) }, "++"},
	{"StartsEach", []float64{10}, func(a []float64) (float64, error) { return StartsEach(a[0], 2) }, "0"},
	{"Buried.Balance", []float64{0.5, 1.5, 500, 0.2, 0.9, 0.15, 9800, 23500, 20000, 17000, 0.5}, func(a []float64) (float64, error) {
		u, err := Buried{a[0], a[1], a[2], a[3], a[4], a[5], a[6], a[7], a[8], a[9], a[10], false}.Balance()
		return u.Factor, err
	}, "++0000++++0"},
	{"BallastWeight", []float64{100, 50, 1.2}, func(a []float64) (float64, error) {
		return BallastWeight(Uplift{Force: a[0], Resisting: a[1]}, a[2])
	}, "00+"},
	{"BallastVolume", []float64{100, 50, 1.2, 23500, 9800}, func(a []float64) (float64, error) {
		return BallastVolume(Uplift{Force: a[0], Resisting: a[1]}, a[2], a[3], a[4])
	}, "00+++"},
	{"SubmergedFromDry", []float64{17000, 2.7}, func(a []float64) (float64, error) { return SubmergedFromDry(a[0], a[1]) }, "++"},
	{"FlowAt", []float64{30}, func(a []float64) (float64, error) { p, err := DemandTank().FlowAt(a[0]); return p.Flow, err }, "0"},
	{"LoadAt", []float64{0.001}, func(a []float64) (float64, error) { return DemandTank().LoadAt(a[0]) }, "+"},
	{"LoadOfRate", []float64{0.001, 31700}, func(a []float64) (float64, error) { return LoadOfRate(a[0], a[1]) }, "0+"},
	{"DischargeUnits", []float64{0.5, 0.002, 0, 0}, func(a []float64) (float64, error) {
		f, err := DischargeUnits(a[0], a[1:2], a[2], a[3])
		return f.Total, err
	}, "+000"},
}

// TestInputIsRefused spoils one argument at a time with what no formula takes,
// and sees that the same formula takes what it should.
func TestInputIsRefused(t *testing.T) {
	for _, f := range formulas {
		if len(f.signs) != len(f.valid) {
			t.Fatalf("%s: %d signs for %d arguments", f.name, len(f.signs), len(f.valid))
		}
		if v, err := f.from(f.valid); err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%s%v = %g, %v", f.name, f.valid, v, err)
		}
		for i, sign := range f.signs {
			bad := []float64{math.NaN(), math.Inf(1), math.Inf(-1)}
			if sign != '-' {
				bad = append(bad, -1)
			}
			if sign == '+' {
				bad = append(bad, 0)
			}
			for _, v := range bad {
				spoiled := append([]float64(nil), f.valid...)
				spoiled[i] = v
				got, err := f.from(spoiled)
				var input *InputError
				var outside *RangeError
				if !errors.As(err, &input) && !errors.As(err, &outside) || got != 0 {
					t.Errorf("%s%v = %g, %v, want an input error", f.name, spoiled, got, err)
				}
			}
			if sign == '0' {
				zero := append([]float64(nil), f.valid...)
				zero[i] = 0
				if v, err := f.from(zero); err != nil || math.IsNaN(v) {
					t.Errorf("%s%v = %g, %v, want it accepted", f.name, zero, v, err)
				}
			}
		}
	}
}

func TestCapacityError(t *testing.T) {
	d, law := Drain{0.1, 0.01}, Manning{0.01}
	top, full := must(Greatest(d, law))(t), must(AtFilling(d, law, 1))(t)
	var over *CapacityError
	_, err := AtFlow(d, law, top.Flow*1.0001)
	if !errors.As(err, &over) || over.Full != full.Flow || math.Abs(over.Greatest/top.Flow-1) > 1e-12 {
		t.Errorf("over capacity: %v, want a capacity error with %g and %g", err, top.Flow, full.Flow)
	}
	if at := must(AtFlow(d, law, full.Flow))(t); !(at.Filling > 0.8 && at.Filling < 0.83) {
		t.Errorf("full flow at filling %g, want the lower depth near 0.82", at.Filling)
	}
	if still := must(AtFlow(d, law, 0))(t); still.Filling > 1e-9 || still.Velocity > 1e-3 {
		t.Errorf("no flow: %+v", still)
	}
}

// TestMessages reads every kind of error aloud.
func TestMessages(t *testing.T) {
	negative := func() error { _, err := Fall(-1, 0.02); return err }
	form := func() error { _, err := HazenWilliams("metric", 0.002, 0.05, 10, 140); return err }
	pipe := Pipe{0.05, 10, 0, Friction{Method: "chezy", Roughness: 1e-5}}
	method := func() error { _, err := pipe.Loss(0.002, WaterAt20C()); return err }
	still := func() error { _, err := pipe.Loss(0, WaterAt20C()); return err }
	load := func() error { _, err := DemandTank().FlowAt(1200); return err }
	over := &CapacityError{Flow: 0.02, Greatest: 0.0125, Full: 0.0116}
	stuck := &ConvergenceError{"operating point", 200, 0, 0.004, -3.5}
	for _, c := range []struct {
		err  error
		want string
	}{
		{negative(), "fall: run is -1, must be zero or more and finite"},
		{form(), `hazen-williams: form is "metric", must be solver, si or handbook`},
		{method(), `friction factor: method is "chezy", must be darcy_swamee_jain or darcy_colebrook`},
		{still(), `friction factor: method is "chezy", must be darcy_swamee_jain or darcy_colebrook`},
		{load(), "NSPC B.5.4 flush tanks: load 1200 is outside 3 to 1000"},
		{over, "gravity flow: 0.02 m3/s is more than the drain carries (0.0125 m3/s at most, 0.0116 m3/s full)"},
		{stuck, "operating point: no solution after 200 iterations between 0 and 0.004, residual -3.5"},
	} {
		if c.err == nil || c.err.Error() != c.want {
			t.Errorf("message %v, want %q", c.err, c.want)
		}
	}
}

// FuzzAtFlow: whatever the numbers, a flow inside the pipe or an error.
func FuzzAtFlow(f *testing.F) {
	f.Add(0.1, 0.02, 0.009, 0.004, false)
	f.Add(0.1, 0.02, 0.001, 0.0101, true)
	f.Add(1e200, 1e200, 1e-300, 1e300, false)
	f.Add(1e-200, 1e-300, 1e300, 1e-320, true)
	f.Fuzz(func(t *testing.T, bore, slope, coefficient, flow float64, colebrook bool) {
		var law Law = Manning{coefficient}
		if colebrook {
			law = EuropeanDrain(coefficient)
		}
		at, err := AtFlow(Drain{bore, slope}, law, flow)
		if err != nil {
			return
		}
		for _, v := range []float64{at.Depth, at.Area, at.Velocity, at.HydraulicRadius} {
			if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("%+v is not a flow", at)
			}
		}
		if at.Filling < 0 || at.Filling > 1 || at.Flow != flow {
			t.Fatalf("%+v does not carry %g inside the pipe", at, flow)
		}
	})
}
