package random

// describe draws the project and the building.
func (g *maker) describe() {
	project := g.object().must("name", pick(g, "Pottery studio under a row house", "Kiln room and glaze store", "Töpferei im Souterrain", "Workshop below street level")).
		rarely(70, "reference", pick(g, "PS-07", "K-2", "2/14")).rarely(50, "revision", pick(g, "A", "B", "C"))
	b := g.object()
	b.may("use", pick(g, "one_family", "one_family", "two_family", "multifamily", "public", "commercial", "institutional", "industrial"))
	b.may("dwelling_units", g.between(0, 4)).may("storeys", g.between(1, 12)).may("water_closets_elsewhere", g.between(0, 6)).may("existing", g.chance(30))
	b.may("upstream_manhole_rim", g.text(g.around(200)))
	b.may("sewer_invert", g.text(-g.length(0, 160)))
	b.may("sewer_distance", g.text(g.length(60, 1200)))
	b.may("mean_inflow", g.flowByHour(pick(g, 1, 5, 10, 30, 60)))
	b.may("fixture_use", pick(g, "intermittent", "frequent", "congested", "special"))
	b.may("predominantly_flush_valves", g.chance(30)).may("frost_closure", pick(g, "yes", "no"))
	top := g.object()
	top.rarely(20, "$schema", "design.schema.json").rarely(40, "profile", pick(g, "ipc-2021", "chicago", "en-12056"))
	top.rarely(60, "datum", "top of the ground floor")
	g.head = []*element{project, b, top}
}

// loose puts elements side by side that nothing joins, for designs that hardly
// begin.
func (g *maker) loose() {
	for g.made < g.want {
		switch g.IntN(6) {
		case 0:
			g.connection(g.name("out"), g.length(12, 120), 100)
		case 1:
			g.fixture(g.kind(), g.length(0, 60))
		case 2:
			g.junction(-g.length(10, 90), 80, "wye")
		case 3:
			g.terminal(50, true)
		case 4:
			g.basin(g.name("sump"), -g.length(100, 200), 80)
		case 5:
			if g.want-g.made >= 2 {
				to := g.junction(-g.length(5, 20), 80, "wye")
				g.arm(to, g.kind())
			}
		}
	}
}
