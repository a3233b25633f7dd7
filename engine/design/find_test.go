package design

import "testing"

func TestFind(t *testing.T) {
	d, _ := Read("studio.json", studio(t), Limits{})
	for id, want := range map[string]Element{
		"wc":             {"wc", "fixture", Position{12, 5, "/fixtures/0"}},
		"bath":           {"bath", "bathroom group", Position{20, 23, "/bathroom_groups/0"}},
		"j2":             {"j2", "junction", Position{23, 5, "/junctions/1"}},
		"d-wc":           {"d-wc", "drain", Position{26, 5, "/pipes/0"}},
		"v-sump":         {"v-sump", "vent", Position{33, 5, "/pipes/2"}},
		"lift":           {"lift", "pumped pipe", Position{34, 5, "/pipes/3"}},
		"cv":             {"cv", "check valve", Position{38, 8, "/pipes/3/devices/1"}},
		"fov":            {"fov", "full-open valve", Position{39, 8, "/pipes/3/devices/2"}},
		"av":             {"av", "air admittance valve", Position{44, 5, "/terminals/1"}},
		"sump":           {"sump", "basin", Position{48, 5, "/basins/0"}},
		"p1":             {"p1", "pump", Position{58, 5, "/pumps/0"}},
		"e1":             {"e1", "electrical supply", Position{62, 18, "/electrical/0"}},
		"main":           {"main", "connection", Position{64, 5, "/connections/0"}},
		"building":       {"building", "building", Position{5, 15, "/building"}},
		"project":        {"project", "project", Position{4, 14, "/project"}},
		"d-wc/bend-1":    {"d-wc/bend-1", "bend", Position{28, 16, "/pipes/0/bends/0"}},
		"d-wc/joint-2":   {"d-wc/joint-2", "joint", Position{29, 45, "/pipes/0/joints/1"}},
		"d-wc/bend-3":    {"d-wc", "drain", Position{26, 5, "/pipes/0"}},
		"d-wc/bend-0":    {"d-wc", "drain", Position{26, 5, "/pipes/0"}},
		"d-wc/upper-end": {"d-wc", "drain", Position{26, 5, "/pipes/0"}},
		"cv/upper-end":   {"cv", "check valve", Position{38, 8, "/pipes/3/devices/1"}},
	} {
		if got, ok := d.Find(id); !ok || got != want {
			t.Errorf("%s: %+v, want %+v", id, got, want)
		}
		if e := want.Position; e.Pointer != "" {
			if line, col := d.PointerPosition(e.Pointer); line != e.Line || col != e.Col {
				t.Errorf("%s: pointer stands at %d:%d", id, line, col)
			}
		}
	}
	for _, id := range []string{"", "/", "nobody", "nobody/bend-1", "/bend-1"} {
		if e, ok := d.Find(id); ok {
			t.Errorf("%q found %+v", id, e)
		}
	}
}

func TestFindInADocumentBuiltInGo(t *testing.T) {
	d := &Document{Pipes: []Pipe{{ID: "a", Service: "drain", Bends: []Bend{{Kind: "eighth_bend"}}, Devices: []Device{{ID: "u", Kind: "union"}}}}}
	for id, kind := range map[string]string{"a": "drain", "u": "union", "a/bend-1": "bend", "project": "project"} {
		if e, ok := d.Find(id); !ok || e.Kind != kind {
			t.Errorf("%s: %+v", id, e)
		}
	}
}
