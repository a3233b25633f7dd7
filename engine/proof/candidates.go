package proof

import (
	"context"
	"maps"
	"slices"
	"strconv"
	"strings"

	"backpitch/engine/policy"
	"backpitch/engine/profile"
	"backpitch/engine/quantity"
)

// How many sets of facts are tried for one figure: where the verdict shows that
// it rests on the figure, and where only moving facts could show it.
const (
	most        = 3000
	mostHopeful = 60
)

// candidates offers the facts of the rule's own tests with the keys of the
// figure put in, until try says it has what it wants.
func (pr *prover) candidates(f figure, limit int, try func(seed int, facts any) (bool, error)) error {
	tried := 0
	for i := range pr.seeds {
		i = (i + pr.hints.seed) % len(pr.seeds)
		for _, facts := range pr.keyed(pr.seeds[i], f) {
			if tried++; tried > limit || pr.spent > budget {
				return nil
			}
			if done, err := try(i, facts); done || err != nil {
				return err
			}
		}
	}
	return nil
}

// mixed offers the seeds with the keys of another figure of the rule as well,
// and with the words that other tables allow in every place: a figure may count
// only where another table lets it.
func (pr *prover) mixed(f figure, try func(seed int, facts any) (bool, error)) error {
	tried := 0
	for i, seed := range pr.seeds {
		for _, facts := range pr.keyed(seed, f) {
			for _, other := range pr.figures() {
				if other.table == f.table {
					continue
				}
				for _, facts := range pr.keyed(facts, other) {
					for _, facts := range pr.worded(facts, other) {
						if tried++; tried > 10*mostHopeful || pr.spent > budget {
							return nil
						}
						if done, err := try(i, facts); done || err != nil {
							return err
						}
					}
				}
			}
		}
	}
	return nil
}

func (pr *prover) wordyCandidates(f figure, try func(seed int, facts any) (bool, error)) error {
	done := false
	keep := func(i int, facts any) (bool, error) {
		var err error
		done, err = try(i, facts)
		return done, err
	}
	if err := pr.candidates(f, most, keep); err != nil || done || pr.waived != nil && pr.waived(f) {
		return err
	}
	return pr.mixed(f, keep)
}

// keyed returns the seed with each key fact set to the figure's key. Where the
// rule does not say which fact that is, every fact of that sort is tried, and
// for sizes every size of the rule's tables: the key may be computed from it.
func (pr *prover) keyed(seed any, f figure) []any {
	out := []any{seed}
	for i, fact := range pr.unit.KeyFacts(f.table, len(f.keys)) {
		if word, literal := strings.CutPrefix(fact, "="); literal {
			if f.parts[i] != word {
				return nil
			}
			continue
		}
		var next []any
		for _, facts := range out {
			next = append(next, pr.withKey(facts, f, i, fact)...)
		}
		out = next
	}
	return out
}

func (pr *prover) withKey(facts any, f figure, i int, fact string) []any {
	var out []any
	if fact != "" {
		for _, subject := range subjects(facts, pr.unit.Group()) {
			p := needPath(fact, subject)
			if _, there := get(facts, p); there {
				out = append(out, pr.withSize(facts, p, f.parts[i]))
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	values := []any{f.parts[i]}
	if f.keys[i] == quantity.Size {
		for _, key := range pr.sizes() {
			if key != f.parts[i] {
				values = append(values, key)
			}
		}
	}
	for _, value := range values {
		leaves(facts, nil, func(p route, old any) {
			if sort(old) == sort(value) && p.name() != "id" && (f.keys[i] != quantity.Size || strings.HasPrefix(old.(string), "DN ")) {
				out = append(out, pr.withSize(facts, p, value))
			}
		})
	}
	return append(out, facts)
}

// withSize sets a key, and with a size the number that always stands beside it:
// drain_size and drain_dn are one thing.
func (pr *prover) withSize(facts any, p route, key any) any {
	facts = set(facts, p, key)
	name := p.name()
	text, _ := key.(string)
	dn, err := strconv.ParseInt(strings.TrimPrefix(text, "DN "), 10, 64)
	if err != nil || name != "size" && !strings.HasSuffix(name, "_size") {
		return facts
	}
	beside := append(slices.Clone(p[:len(p)-1]), strings.TrimSuffix(name, "size")+"dn")
	if _, there := get(facts, beside); there {
		return set(facts, beside, dn)
	}
	return facts
}

// sizes are the size keys of the tables that the rule reads.
func (pr *prover) sizes() []string {
	seen := map[string]bool{}
	for _, id := range slices.Concat(pr.unit.Tables, pr.unit.Optional) {
		t := pr.p.Table(id)
		for row := range t.Rows() {
			for k, part := range t.KeyParts(row) {
				if t.Keys[k] == quantity.Size {
					seen[part.(string)] = true
				}
			}
		}
	}
	return slices.Sorted(maps.Keys(seen))
}

func sort(v any) string {
	switch v.(type) {
	case string:
		return "word"
	case int64:
		return "number"
	case bool:
		return "flag"
	}
	return ""
}

// subjects are the routes of all elements of the group.
func subjects(facts any, group string) []route {
	root, _ := facts.(map[string]any)
	var out []route
	for _, name := range slices.Sorted(maps.Keys(root)) {
		if group != "" && name != group {
			continue
		}
		switch v := root[name].(type) {
		case map[string]any:
			out = append(out, route{name})
		case []any:
			for i := range v {
				out = append(out, route{name, i})
			}
		}
	}
	return out
}

// wordy proves a flag, a word or a list of words: for each way to change it
// some facts must be judged otherwise.
func (pr *prover) wordy(ctx context.Context, proof Proof, f figure) (Proof, error) {
	changes := pr.p.ChangesOf(f.table, f.row)
	waiting, changed := map[string]profile.Change{}, map[string]*policy.Trial{}
	for _, c := range changes {
		waiting[c.Words] = c
		changed[c.Words] = pr.unit.Under(pr.p.Changed(c))
	}
	err := pr.wordyCandidates(f, func(i int, facts any) (bool, error) {
		for _, facts := range pr.beyondLimits(ctx, pr.worded(facts, f)) {
			before, err := pr.judge(ctx, pr.trial, facts)
			if err != nil {
				return false, err
			}
			for _, name := range sortedKeys(waiting) {
				after := pr.judgeChanged(ctx, changed[name], facts)
				for _, id := range sortedKeys(before) {
					if before[id].Outcome != after[id].Outcome {
						proof.Cases = append(proof.Cases, newCase(pr.unit, id, "notices that "+name, before[id], facts))
						delete(waiting, name)
						break
					}
				}
			}
			if len(waiting) == 0 {
				return true, nil
			}
		}
		return false, nil
	})
	if len(waiting) == 0 {
		proof.Why = ""
	} else if len(proof.Cases) > 0 {
		proof.Why = "no facts notice: " + strings.Join(sortedKeys(waiting), "; ")
	}
	return proof, err
}

// beyondLimits adds to facts that are judged by a number the same facts with
// that number on either side of the limit: a flag may count on one side alone.
func (pr *prover) beyondLimits(ctx context.Context, list []any) []any {
	out := list
	for _, facts := range list {
		verdicts, err := pr.judge(ctx, pr.trial, facts)
		if err != nil {
			continue
		}
		for _, id := range sortedKeys(verdicts) {
			v := verdicts[id]
			limit, ok := v.Limit.(int64)
			if _, number := v.Measured.(int64); !ok || !number || limit == quantity.Unlimited {
				continue
			}
			subject := find(facts, pr.unit.Group(), id)
			for _, fact := range pr.numbers(facts, subject, v) {
				if value, _ := get(facts, fact); value != v.Measured {
					continue
				}
				for _, to := range pr.beyond(dotted(fact, subject), limit) {
					out = append(out, pr.move(facts, fact, to))
				}
			}
		}
	}
	return out
}

// worded returns the facts and, for a list of words, the facts with each word
// of it, and one that is not of it, in each place where a word stands.
func (pr *prover) worded(facts any, f figure) []any {
	list, ok := f.value.([]string)
	if !ok {
		return []any{facts}
	}
	out := []any{facts}
	for _, word := range append(slices.Clone(list), "another_word") {
		for _, subject := range subjects(facts, pr.unit.Group()) {
			leaves(facts, nil, func(p route, old any) {
				if !p.under(subject) || p.name() == "id" {
					return
				}
				switch old.(type) {
				case string:
					out = append(out, set(facts, p, word))
				case []any:
					out = append(out, set(facts, p, []any{word}))
				}
			})
		}
	}
	return out
}

// keyCases put the key fact one unit to either side of an ordered key, so that
// a key that moves is noticed.
func (pr *prover) keyCases(ctx context.Context, f figure, cases []Case) []Case {
	var out []Case
	for i, fact := range pr.unit.KeyFacts(f.table, len(f.keys)) {
		at, ordered := f.parts[i].(int64)
		if !ordered || fact == "" {
			continue
		}
		for _, c := range cases {
			subject := find(c.facts, pr.unit.Group(), c.Subject)
			p := needPath(fact, subject)
			if _, there := get(c.facts, p); !there {
				continue
			}
			unit := profile.Beyond(at)
			for _, to := range []int64{at - unit, at + unit} {
				facts := set(c.facts, p, to)
				verdicts, err := pr.judge(ctx, pr.trial, facts)
				if v, ok := verdicts[c.Subject]; err == nil && ok {
					out = append(out, newCase(pr.unit, c.Subject, fact+" beside its key", v, facts))
				}
			}
		}
	}
	return out
}

func splitDots(s string) []string { return strings.Split(s, ".") }

func sortedKeys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }
