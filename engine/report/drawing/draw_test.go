package drawing

import (
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var update = flag.Bool("update", false, "write the golden drawings anew")

// cases are all drawings that the tests look at, by golden file.
func cases() map[string][]byte {
	return map[string][]byte{
		"pump-demo.svg":     PumpChart(demoPump()),
		"pump-weak.svg":     PumpChart(weakPump()),
		"pump-strong.svg":   PumpChart(strongPump()),
		"pump-parallel.svg": PumpChart(twinPumps()),
		"riser-demo.svg":    Riser(demoRiser()),
		"riser-bad.svg":     Riser(badRiser()),
		"riser-60.svg":      Riser(building(3, 5, 4)),
		"line-demo.svg":     PumpedSide(demoPumped()),
		"line-bare.svg":     PumpedSide(PumpedData{}),
		"basin-demo.svg":    BasinSection(demoBasin()),
		"basin-poor.svg":    BasinSection(poorBasin()),
		"basin-bare.svg":    BasinSection(BasinData{Frame: Frame{Prefix: "bare-"}, ID: "b"}),
	}
}

func TestGolden(t *testing.T) {
	for name, got := range cases() {
		file := filepath.Join("testdata", name)
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if string(got) != string(want) {
			t.Errorf("%s differs from its golden file: look at it and run with -update", name)
		}
	}
}
