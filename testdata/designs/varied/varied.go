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

// Long is a design of about so many pipes on one main: a vented sink joins at
// every fourth pipe, so that everything upstream of a pipe grows with the
// design.
func Long(pipes int) []byte {
	var fixtures, junctions, terminals, lines []any
	type object = map[string]any
	pipe := func(id, service, from, to, size string) {
		p := object{"id": id, "service": service, "from": from, "to": to, "size": size, "material": "pvc_dwv",
			"length": "3 ft 6 in", "buried": service == "drain", "lie": "horizontal", "slope": "1/8 in/ft"}
		if service == "vent" {
			p["lie"] = "vertical"
			delete(p, "slope")
		}
		if len(lines)%40 == 0 {
			p["devices"] = []any{object{"id": "co-" + id, "kind": "cleanout", "size": size, "at": "0 in", "clearance": "24 in", "accessible": true}}
		}
		lines = append(lines, p)
	}
	rows := (pipes + 3) / 4
	for i := range rows {
		f, j, m, t := fmt.Sprintf("sink-%d", i), fmt.Sprintf("tee-%d", i), fmt.Sprintf("wye-%d", i), fmt.Sprintf("roof-%d", i)
		next := fmt.Sprintf("wye-%d", i+1)
		if i == rows-1 {
			next = "out"
		}
		fixtures = append(fixtures, object{"id": f, "kind": "sink", "use": "private", "floor": "-9 ft", "flood_rim": "-6 ft",
			"trap": object{"type": "p_trap", "size": "2 in", "seal": "2-1/2 in", "outlet_drop": "14 in", "outlet_run": "18 in"}})
		junctions = append(junctions, object{"id": j, "fitting": "sanitary_tee", "size": "2 in"}, object{"id": m, "fitting": "wye", "size": "4 in", "run": fmt.Sprintf("main-%d", max(i-1, 0))})
		terminals = append(terminals, object{"id": t, "kind": "roof_vent", "size": "2 in", "height_above_roof": "8 in", "roof_used": false, "distance_to_opening": "12 ft"})
		pipe("arm-"+f, "drain", f, j, "2 in")
		pipe("run-"+f, "drain", j, m, "2 in")
		pipe("vent-"+f, "vent", j, t, "2 in")
		pipe(fmt.Sprintf("main-%d", i), "drain", m, next, "4 in")
	}
	delete(junctions[1].(object), "run") // nothing is upstream of the first
	text, err := json.Marshal(object{
		"profile": "ipc-2021", "project": object{"name": "A long row of workshop sinks"},
		"building": object{"use": "public", "storeys": 1, "existing": false},
		"fixtures": fixtures, "junctions": junctions, "pipes": lines, "terminals": terminals,
		"connections": []any{object{"id": "out", "kind": "building_sewer", "lie": "horizontal", "size": "4 in", "slope": "1/8 in/ft", "invert": "-90 ft"}},
	})
	if err != nil {
		panic("varied: " + err.Error())
	}
	return text
}
