package network

import "container/heap"

// Order returns the nodes so that each comes after everything that drains into
// it; among those that may come next, the smallest id.
func (n *Network) Order() []int { return n.wasteOrder }

// VentOrder returns the nodes so that each comes after every vent that runs
// towards it; among those that may come next, the smallest id.
func (n *Network) VentOrder() []int { return n.ventOrder }

type smallest []int

func (s smallest) Len() int           { return len(s) }
func (s smallest) Less(i, j int) bool { return s[i] < s[j] }
func (s smallest) Swap(i, j int)      { s[i], s[j] = s[j], s[i] }
func (s *smallest) Push(x any)        { *s = append(*s, x.(int)) }
func (s *smallest) Pop() any {
	old := *s
	x := old[len(old)-1]
	*s = old[:len(old)-1]
	return x
}

func (n *Network) order(p plane) []int {
	waiting := make([]int, len(n.Nodes))
	for _, e := range n.Edges {
		if p.has(e.Service) {
			waiting[e.To]++
		}
	}
	ready := &smallest{}
	for i := range n.Nodes {
		if waiting[i] == 0 {
			*ready = append(*ready, i)
		}
	}
	heap.Init(ready)
	order := make([]int, 0, len(n.Nodes))
	for ready.Len() > 0 {
		node := heap.Pop(ready).(int)
		order = append(order, node)
		n.eachOut(p, node, func(e int) {
			to := n.Edges[e].To
			if waiting[to]--; waiting[to] == 0 {
				heap.Push(ready, to)
			}
		})
	}
	if len(order) != len(n.Nodes) {
		panic("network: a loop was left in the graph")
	}
	return order
}

func (n *Network) eachOut(p plane, node int, do func(edge int)) {
	v := &n.Nodes[node]
	if p == air {
		for _, e := range v.VentOut {
			do(e)
		}
		return
	}
	if v.Outlet != None {
		do(v.Outlet)
	}
	for _, e := range v.Lifts {
		do(e)
	}
}

// Down returns the edge by which waste leaves a node: its outlet, or for a
// basin the lift to its first pump; None where it ends.
func (n *Network) Down(node int) int {
	v := &n.Nodes[node]
	switch {
	case v.Outlet != None:
		return v.Outlet
	case len(v.Lifts) > 0:
		return v.Lifts[0]
	}
	return None
}

// Reach marks every node to which waste from the starts comes, the starts
// included. Pumps are passed; with gravity true they are not.
func (n *Network) Reach(gravity bool, starts ...int) []bool {
	seen := make([]bool, len(n.Nodes))
	stack := append([]int(nil), starts...)
	for len(stack) > 0 {
		node := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if seen[node] {
			continue
		}
		seen[node] = true
		n.eachOut(waste, node, func(e int) {
			if gravity && n.Edges[e].Service == Lift {
				return
			}
			stack = append(stack, n.Edges[e].To)
		})
	}
	return seen
}

// Path returns the edges by which waste runs from one node to another, in
// order of flow; false when it never gets there. A node's path to itself is
// empty. Where a basin has several pumps, the first that leads there is taken.
func (n *Network) Path(from, to int) ([]int, bool) {
	via := make(map[int]int, 16)
	via[from] = None
	stack := []int{from}
	for len(stack) > 0 {
		node := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if node == to {
			var path []int
			for e := via[node]; e != None; e = via[n.Edges[e].From] {
				path = append(path, e)
			}
			for i, j := 0, len(path)-1; i < j; i, j = i+1, j-1 {
				path[i], path[j] = path[j], path[i]
			}
			return path, true
		}
		first := len(stack)
		n.eachOut(waste, node, func(e int) {
			if _, seen := via[n.Edges[e].To]; !seen {
				via[n.Edges[e].To] = e
				stack = append(stack, n.Edges[e].To)
			}
		})
		for i, j := first, len(stack)-1; i < j; i, j = i+1, j-1 {
			stack[i], stack[j] = stack[j], stack[i]
		}
	}
	return nil, false
}

// Developed sums the lengths of edges along a path. The caller's length gives
// that of one edge, false when it is not known; lifts have none and are passed.
// The sum is exact in the caller's unit; false when a length is unknown.
func (n *Network) Developed(path []int, length func(edge int) (int64, bool)) (int64, bool) {
	var sum int64
	for _, e := range path {
		if n.Edges[e].Service == Lift {
			continue
		}
		l, ok := length(e)
		if !ok {
			return 0, false
		}
		sum += l
	}
	return sum, true
}
