package facts

import (
	"fmt"
	"slices"

	"backpitch/engine/calcs"
	"backpitch/engine/design"
	"backpitch/engine/hydraulics"
	"backpitch/engine/network"
)

// shared is pumps of one basin whose lines meet in one pumped pipe.
type shared struct {
	pumps  []int // by item
	common []int // pipes that all of them share, to the end of the line
	meet   int   // node where the shared part begins
}

// operateTogether finds where the pumps of a basin run at once. Pumps with
// lines of their own run as if alone. For what flows on below, pumps that run
// side by side deliver less than the sum of their rates alone; a standby pump
// runs in place of another and is left out there.
func (v *derivation) operateTogether() {
	v.total = make([]spread, len(v.n.Nodes))
	for i := range v.n.Nodes {
		n := &v.n.Nodes[i]
		if n.Kind != network.Basin || len(n.Lifts) == 0 {
			continue
		}
		var all, duty []int
		for _, l := range n.Lifts {
			item := v.n.Nodes[v.n.Edges[l].To].Item
			all = append(all, item)
			if v.pumps[item].p.Duty != "standby" || len(n.Lifts) == 1 {
				duty = append(duty, item)
			}
		}
		b := &v.d.Basins[n.Item]
		total, g, ok := v.rateOf(b, all)
		if !ok {
			continue
		}
		v.total[i] = total
		if len(duty) < len(all) {
			if total, g, ok = v.rateOf(b, duty); !ok {
				continue
			}
		}
		if g != nil {
			v.lessAtMeeting(g, total)
		}
	}
}

// rateOf is the rate of several pumps at once, and how they share a line, nil
// where they do not; not ok where it is not known.
func (v *derivation) rateOf(b *design.Basin, pumps []int) (total spread, g *shared, ok bool) {
	var alone [ends]int64
	computed := true
	for _, i := range pumps {
		x := &v.pumps[i]
		for end, r := range x.rate {
			if r == nil {
				return total, nil, false
			}
			alone[end] += *r
		}
		computed = computed && x.rateBasis == "operating_point"
	}
	for end := range ends {
		total[end] = ptr(alone[end])
	}
	if len(pumps) < 2 || !computed {
		return total, nil, true
	}
	g, apart := v.sharing(pumps)
	if apart {
		return total, nil, true
	}
	if g == nil {
		v.rec.Gap(b.ID, "pumps running together", "their lines meet in more than one place; the sum of their rates alone stands, which is too much")
		return total, nil, true
	}
	together, ok := v.solveTogether(b, g)
	return together, g, ok
}

// sharing finds the pipes that the lines of all pumps end with. Apart says that
// no two of them share a pipe; nil and not apart, that some share more than all.
func (v *derivation) sharing(pumps []int) (g *shared, apart bool) {
	common := v.pumps[pumps[0]].line
	for _, i := range pumps[1:] {
		common = sharedTail(common, v.pumps[i].line)
	}
	most := 0
	for a := range pumps {
		for b := range a {
			most = max(most, len(sharedTail(v.pumps[pumps[a]].line, v.pumps[pumps[b]].line)))
		}
	}
	switch {
	case most == 0:
		return nil, true
	case most > len(common) || len(common) == 0:
		return nil, false
	}
	return &shared{pumps, common, v.pipes[common[0]].edge.From}, false
}

func sharedTail(a, b []int) []int {
	n := 0
	for n < len(a) && n < len(b) && a[len(a)-1-n] == b[len(b)-1-n] {
		n++
	}
	return a[len(a)-n:]
}

func (v *derivation) solveTogether(b *design.Basin, g *shared) (total spread, ok bool) {
	first := &v.pumps[g.pumps[0]]
	static, _ := first.static.Float64()
	common, ok := v.pipeline(g.common, first.method, true)
	if !ok {
		return total, false
	}
	var found [ends]hydraulics.Together
	for end := range ends {
		units := make([]hydraulics.Unit, len(g.pumps))
		for k, i := range g.pumps {
			x := &v.pumps[i]
			curves, ok := v.pumpCurves(x.p)
			branch, okBranch := v.pipeline(x.line[:len(x.line)-len(g.common)], x.method, false)
			if !ok || !okBranch || curves[end].First().Flow != 0 {
				return total, false
			}
			units[k] = hydraulics.Unit{Curve: curves[end], Branch: hydraulics.Pipeline(hydraulics.WaterAt20C(), branch[end]...)}
		}
		o, err := hydraulics.OperateTogether(units, static, hydraulics.Pipeline(hydraulics.WaterAt20C(), common[end]...))
		if err != nil {
			v.notComputed(b.Position, fmt.Sprintf("basin %q", b.ID), "pumps running together", err)
			return total, false
		}
		found[end], total[end] = o, toFixed(o.Flow, flowScale)
	}
	v.recordTogether(b, g, found)
	return total, true
}

// lessAtMeeting takes off, where the lines meet, what the pumps deliver less
// than alone.
func (v *derivation) lessAtMeeting(g *shared, total spread) {
	less := &v.nodes[g.meet].less
	for end := range ends {
		sum, load := int64(0), int64(0)
		for _, i := range g.pumps {
			rate := *v.pumps[i].rate[end]
			l, _ := v.t.PumpLoad(rate)
			sum, load = sum+rate, load+l
		}
		together, ok := v.t.PumpLoad(*total[end])
		less.pumped[end] += sum - *total[end]
		if ok && v.t.CountsPumps() {
			less.pumpLoad[end] += load - together
		}
	}
}

func (v *derivation) recordTogether(b *design.Basin, g *shared, found [ends]hydraulics.Together) {
	if v.rec == nil {
		return
	}
	t := &calcs.Together{Head: found[expected].Head}
	for _, i := range g.pumps {
		t.Pumps = append(t.Pumps, v.pumps[i].p.ID)
	}
	slices.Sort(t.Pumps)
	for end := range ends {
		t.Flow[end] = found[end].Flow
	}
	for i := range v.rec.Pumps {
		if slices.Contains(t.Pumps, v.rec.Pumps[i].ID) {
			v.rec.Pumps[i].Together = t
		}
	}
	if len(found[expected].Each) == 2 {
		v.rec.Step(calcs.Raw{Formula: "two_pumps", Subject: b.ID, Fact: "total_rate", Values: found[expected].Each,
			Result: found[expected].Flow, Low: ptr(found[lowEnd].Flow), High: ptr(found[highEnd].Flow)})
	}
}
