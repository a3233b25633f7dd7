// Package varied makes many designs, and large ones, of a few for measuring
// speed. What leaves is text of designs; nothing is read, judged or written.
package varied

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"regexp"
	"strconv"
)

var (
	idKeys   = regexp.MustCompile(`("(?:id|from|to|run|basin|pump)": *")([^"]+)"`)
	idLists  = regexp.MustCompile(`"fixtures": *\[ *"[^\]]*\]`)
	quoted   = regexp.MustCompile(`"([^"]+)"`)
	loose    = regexp.MustCompile(`("(?:clearance|cord_length|receptacle_distance|distance_to_opening|distance_to_lot_line|distance_from_stack_base|distance_from_fixture_drain|existing_load|sewer_distance|height_above_roof)": *")(\d+)`)
	lengths  = regexp.MustCompile(`("service": "vent"[^\n]*"length": *")(\d+)`)
	elements = []string{"fixtures", "bathroom_groups", "junctions", "pipes", "terminals", "basins", "pumps", "electrical", "connections"}
	holdIDs  = map[string]bool{"id": true, "from": true, "to": true, "run": true, "basin": true, "pump": true, "fixtures": true}
)

// Variation is a design with other ids and with other numbers in places that
// no other place contradicts: distances, clearances, lengths of vents, loads
// that are there already. The same seed gives the same text; the layout stays.
func Variation(design []byte, seed uint64) []byte {
	r := rand.New(rand.NewPCG(seed, 1))
	mark := "-" + strconv.FormatUint(seed, 36)
	out := idKeys.ReplaceAll(design, []byte("${1}${2}"+mark+`"`))
	out = idLists.ReplaceAllFunc(out, func(list []byte) []byte {
		const key = len(`"fixtures"`)
		return append(list[:key:key], quoted.ReplaceAll(list[key:], []byte(`"${1}`+mark+`"`))...)
	})
	for _, numbers := range []*regexp.Regexp{loose, lengths} {
		out = numbers.ReplaceAllFunc(out, func(found []byte) []byte {
			parts := numbers.FindSubmatch(found)
			n, _ := strconv.Atoi(string(parts[2]))
			return strconv.AppendInt(parts[1], int64(n+r.IntN(n/2+4)), 10)
		})
	}
	return out
}

// Merged is one design of the elements of all: the ids of the second carry -2,
// and so on. Project and building are those of the first.
func Merged(designs ...[]byte) ([]byte, error) {
	var whole map[string]any
	for i, text := range designs {
		var one map[string]any
		if err := json.Unmarshal(text, &one); err != nil {
			return nil, fmt.Errorf("design %d: %w", i+1, err)
		}
		if i == 0 {
			whole = one
			continue
		}
		mark := "-" + strconv.Itoa(i+1)
		for _, key := range elements {
			list, _ := one[key].([]any)
			for _, x := range list {
				have, _ := whole[key].([]any)
				whole[key] = append(have, renamed(x, "", mark))
			}
		}
	}
	return json.Marshal(whole)
}

func renamed(x any, key, mark string) any {
	switch x := x.(type) {
	case map[string]any:
		for k, v := range x {
			x[k] = renamed(v, k, mark)
		}
	case []any:
		for i, v := range x {
			x[i] = renamed(v, key, mark)
		}
	case string:
		if holdIDs[key] {
			return x + mark
		}
	}
	return x
}
