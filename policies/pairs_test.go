package policies_test

import (
	"fmt"
	"slices"
	"testing"

	"backpitch/engine/profile"
)

// Each pair judges one requirement between them: what one of the two passes
// over is the other's. A profile with one alone would let it through unseen.
var pairs = [][2]string{
	{"air_admittance/too_low", "air_admittance/stack_type_too_low"}, // every type of valve has a height
	{"basin/too_small", "basin/too_shallow"},                        // width and depth
	{"discharge/too_small", "discharge/opening_too_small"},          // nominal size, opening of a grinder pump's line
	{"discharge/connects_wrongly", "discharge/enters_wrong_side"},   // fitting and side
	{"basin/vent_too_small", "basin/vent_below_least_size"},         // size for rate and length, least size
	{"air_admittance/undersized", "air_admittance/smaller_than_vent"},
	{"cleanout/missing", "cleanout/missing_at_turn"},                  // ends and turns
	{"drain/reduces_in_flow", "fixture/drain_smaller_than_trap"},      // pipes and outlets, traps
	{"discharge/check_valve_missing", "discharge/check_valve_shared"}, // one in the line, one for each pump
}

// instead names the rules that do the work of one half where a code differs in
// kind.
var instead = map[string][]string{
	"cleanout/missing_at_turn": {"cleanout/turns_too_much"},
	"basin/vent_too_small":     {"basin/vent_too_small_for_load", "basin/vent_too_small_for_kind", "basin/vent_too_small_for_drain"},
	"discharge/too_small":      {"discharge/too_small_for_use"},
}

// apart names the profiles that have half a pair, and why nothing falls out.
var apart = map[string]string{
	"wisconsin-sump basin/too_small": "the rules state a diameter and no depth: what has to fit below the inlet is judged by volume",
}

func TestPairsAreAdoptedTogether(t *testing.T) {
	var problems []string
	used := map[string]bool{}
	for _, id := range chainOfAll(t) {
		p, err := profile.Load(disk, id)
		if err != nil {
			problems = append(problems, err.Error())
			continue
		}
		for _, pair := range pairs {
			first, second := adopts(p, pair[0]), adopts(p, pair[1])
			if first == second {
				continue
			}
			key := id + " " + pair[0]
			if second {
				key = id + " " + pair[1]
			}
			used[key] = true
			if apart[key] == "" {
				problems = append(problems, fmt.Sprintf("profile %s adopts half of the pair %s, %s", id, pair[0], pair[1]))
			}
		}
	}
	for key := range apart {
		if !used[key] {
			problems = append(problems, key+": the reason stands for nothing")
		}
	}
	report(t, problems)
}

func adopts(p *profile.Profile, rule string) bool {
	return slices.ContainsFunc(append([]string{rule}, instead[rule]...), func(r string) bool { return slices.Contains(p.Rules(), r) })
}
