package hydraulics

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestStartsAreMostAtTheWorstInflow(t *testing.T) {
	r := seeded()
	for range lawTrials {
		d := Duty{Volume: between(r, 0.01, 1), PumpRate: between(r, 0.5e-3, 10e-3)}
		d.DrainBack = d.Volume * between(r, 0, 0.9)
		if r.IntN(2) == 0 {
			d.DrainBack = 0
		}
		worst := must(d.Worst())(t)
		for share := 0.01; share < 1; share += 0.01 {
			c := must(d.At(share * d.PumpRate))(t)
			if c.StartsPerHour > worst.StartsPerHour*(1+1e-12) {
				t.Fatalf("%+v: %g starts at inflow %g, worst %g", d, c.StartsPerHour, c.Inflow, worst.StartsPerHour)
			}
			// What flows in over a cycle and drains back is what the pump removes.
			if in, out := c.Inflow*c.Total+d.DrainBack, d.PumpRate*c.Run; math.Abs(in/out-1) > 1e-9 {
				t.Fatalf("%+v: %g m3 in, %g m3 out", d, in, out)
			}
		}
		if d.DrainBack == 0 && math.Abs(worst.Inflow/d.PumpRate-0.5) > 1e-12 {
			t.Fatalf("%+v: worst inflow %g, want half the pump rate", d, worst.Inflow)
		}
		back := must(VolumeForStarts(d.PumpRate, must(Duty{d.Volume, 0, d.PumpRate}.Worst())(t).StartsPerHour))(t)
		if math.Abs(back/d.Volume-1) > 1e-12 {
			t.Fatalf("volume %g comes back as %g", d.Volume, back)
		}
	}
}

func TestCycleStatus(t *testing.T) {
	duty := Duty{Volume: 0.1, DrainBack: 0.02, PumpRate: 0.002}
	full := Duty{Volume: 0.1, DrainBack: 0.1, PumpRate: 0.002}
	for _, c := range []struct {
		name   string
		duty   Duty
		inflow float64
		want   Cycle
	}{
		{"nothing flows in", duty, 0, Cycle{Status: Idle}},
		{"inflow equals pump rate", duty, 0.002, Cycle{Status: NeverStops, Inflow: 0.002, Fill: 40}},
		{"inflow exceeds pump rate", duty, 0.004, Cycle{Status: NeverStops, Inflow: 0.004, Fill: 20}},
		{"drain-back fills the basin", full, 0.001, Cycle{Status: RestartsAtOnce, Inflow: 0.001}},
		{"cycling", duty, 0.001, Cycle{Status: Cycling, Inflow: 0.001, Fill: 80, Run: 100, Total: 180, StartsPerHour: 20}},
	} {
		got := must(c.duty.At(c.inflow))(t)
		for _, v := range []*float64{&got.Fill, &got.Run, &got.Total, &got.StartsPerHour} {
			*v = math.Round(*v*1e9) / 1e9
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
	if got := must(full.Worst())(t).Status; got != RestartsAtOnce {
		t.Errorf("worst cycle with a basin of drain-back is %s, want %s", got, RestartsAtOnce)
	}
}

func TestVesselsAgree(t *testing.T) {
	straight := must(Tapered{0.6, 0.6, 1}.VolumeTo(0.4))(t)
	if round := must(Round{0.6}.VolumeTo(0.4))(t); math.Abs(straight/round-1) > 1e-12 {
		t.Errorf("a frustum that does not taper holds %g, a cylinder %g", straight, round)
	}
	tapered := Tapered{0.5, 0.7, 1}
	slices := 0.0
	for i := range 1000 { // discs one millimetre thick
		d := 0.5 + 0.2*(float64(i)+0.5)/1000
		slices += math.Pi / 4 * d * d * 0.001
	}
	if whole := must(VolumeBetween(tapered, 0, 1))(t); math.Abs(whole/slices-1) > 1e-6 {
		t.Errorf("frustum holds %g, its slices %g", whole, slices)
	}
	low, high := must(VolumeBetween(tapered, 0, 0.3))(t), must(VolumeBetween(tapered, 0.3, 1))(t)
	if whole := must(tapered.VolumeTo(1))(t); math.Abs((low+high)/whole-1) > 1e-12 {
		t.Errorf("parts hold %g, the whole %g", low+high, whole)
	}
}

// TestRiseAndRetention: a day's storage and the level it ends at are the same
// statement made twice.
func TestRiseAndRetention(t *testing.T) {
	vessel, inflow := Round{0.9}, 0.05e-3
	reserve := must(VolumeBetween(vessel, 0.5, 1.1))(t)
	seconds := must(Retention(reserve, inflow))(t)
	rise := must(LevelRise(inflow, 0, must(vessel.VolumeTo(1))(t)))(t)
	if got := rise * seconds; math.Abs(got-0.6) > 1e-12 {
		t.Errorf("level rises %g m while the reserve fills, want 0.6", got)
	}
}

func TestBallastReachesTheFactor(t *testing.T) {
	r := seeded()
	for range lawTrials {
		b := Buried{
			BasinArea: between(r, 0.2, 2), BasinHeight: between(r, 0.8, 3), BasinWeight: between(r, 200, 3000), Cover: between(r, 0, 0.5),
			Water: UnitWeightWater, Concrete: UnitWeightConcrete, SoilSoaked: between(r, 18000, 21000), SoilMoist: 16500, IgnoringSoil: true,
		}
		u, factor := must(b.Balance())(t), between(r, 1, 2)
		if weight := must(BallastWeight(u, factor))(t); weight > 0 {
			b.BasinWeight += weight
			if got := must(b.Balance())(t).Factor; math.Abs(got/factor-1) > 1e-12 {
				t.Fatalf("factor %g with %g N of ballast, want %g", got, weight, factor)
			}
			b.BasinWeight -= weight
		}
		if volume := must(BallastVolume(u, factor, b.Concrete, b.Water))(t); volume > 0 {
			b.SlabArea, b.SlabHeight = volume/0.3, 0.3
			if got := must(b.Balance())(t).Factor; math.Abs(got/factor-1) > 1e-12 {
				t.Fatalf("factor %g with %g m3 of concrete, want %g", got, volume, factor)
			}
		}
	}
	if _, err := BallastVolume(Uplift{Force: 100}, 2.5, UnitWeightConcrete, UnitWeightWater); err == nil {
		t.Error("concrete at 2.4 times the weight of water reached a factor of 2.5")
	}
}

func TestGroundWaterLifts(t *testing.T) {
	b := Buried{
		BasinArea: 0.5, BasinHeight: 1.5, BasinWeight: 500, Cover: 0.2, SlabArea: 0.9, SlabHeight: 0.15,
		Water: UnitWeightWater, Concrete: UnitWeightConcrete, SoilSoaked: 20000, SoilMoist: 17000, GroundWater: 5,
	}
	dry := must(b.Balance())(t)
	if dry.Submerged || dry.Factor != 0 || dry.Force != 0 || !(dry.Net > 0) {
		t.Errorf("ground water below the basin: %+v", dry)
	}
	last := math.Inf(1)
	for depth := 1.8; depth >= 0; depth -= 0.1 {
		b.GroundWater = depth
		u := must(b.Balance())(t)
		if !u.Submerged || !(u.Factor < last) {
			t.Fatalf("ground water at %g: factor %g, %g when it stood lower", depth, u.Factor, last)
		}
		last = u.Factor
	}
}
