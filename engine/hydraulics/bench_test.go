package hydraulics

import "testing"

var sink float64

func BenchmarkAtFlow(b *testing.B) {
	for name, law := range map[string]Law{"manning": Manning{0.01}, "colebrook": EuropeanDrain(1e-3)} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				sink = must(AtFlow(Drain{0.1, 0.02}, law, 0.004))(b).Filling
			}
		})
	}
}

func BenchmarkGreatest(b *testing.B) {
	for b.Loop() {
		sink = must(Greatest(Drain{0.1, 0.02}, Manning{0.01}))(b).Flow
	}
}

func BenchmarkSlopeForVelocity(b *testing.B) {
	for b.Loop() {
		sink = must(SlopeForVelocity(0.1, 0.5, EuropeanDrain(1e-3), 0.7))(b)
	}
}

func BenchmarkColebrook(b *testing.B) {
	for b.Loop() {
		sink = must(Colebrook(5e4, 3e-5))(b)
	}
}

func BenchmarkOperatingPoint(b *testing.B) {
	for _, method := range []FrictionMethod{ByHazenWilliams, BySwameeJain, ByColebrook} {
		pipe := Pipe{0.0525, 40, 6, Friction{method, 150, FormSolver, 1.5e-6}}
		system := System{StaticHead: 3, Common: Pipeline(WaterAt20C(), pipe)}
		curve := testCurve(b)
		b.Run(string(method), func(b *testing.B) {
			for b.Loop() {
				sink = must(OperatingPoint(curve, system, 1))(b).Flow
			}
		})
	}
}
