// Command write puts random designs into a folder, one file a seed, for
// batches, measurements and comparisons:
//
//	go run ./testdata/designs/random/write --out DIR --seeds 1000 --elements 80
//
// Without --elements the sizes are mixed, from 1 to 300.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"backpitch/testdata/designs/random"
)

func main() {
	out := flag.String("out", "", "folder for the designs; it is made where it does not stand")
	first := flag.Uint64("first", 0, "the first seed")
	seeds := flag.Uint64("seeds", 100, "number of seeds, one design each")
	elements := flag.Int("elements", 0, "elements of each design, about; 0 for mixed sizes")
	flag.Parse()
	if *out == "" || flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := write(*out, *first, *seeds, *elements); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func write(out string, first, seeds uint64, elements int) error {
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	for seed := first; seed < first+seeds; seed++ {
		data := random.Mixed(seed)
		if elements > 0 {
			data = random.Design(seed, elements)
		}
		if err := os.WriteFile(filepath.Join(out, fmt.Sprintf("random-%06d.json", seed)), data, 0o644); err != nil {
			return err
		}
	}
	return nil
}
