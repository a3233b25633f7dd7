package engine_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// allowed is who may import whom inside the project. The arrows run one way:
// quantity, design, network, facts, policy, engine, cmd; finding is a leaf.
var allowed = map[string][]string{
	"schema":            {},
	"policies":          {},
	"engine/quantity":   {},
	"engine/finding":    {},
	"engine/hydraulics": {},
	"engine/spelling":   {},
	"engine/limit":      {},
	"engine/calcs":      {"engine/quantity", "engine/finding"},
	"engine/design":     {"engine/quantity", "engine/finding", "engine/limit", "engine/spelling", "schema"},
	"engine/network":    {"engine/design", "engine/finding", "engine/quantity"},
	"engine/profile":    {"engine/quantity", "engine/finding", "engine/spelling", "schema"},
	"engine/facts":      {"engine/calcs", "engine/design", "engine/network", "engine/hydraulics", "engine/profile", "engine/quantity", "engine/finding"},
	"engine/policy":     {"engine/facts", "engine/limit", "engine/profile", "engine/finding", "engine/quantity", "schema"},
	"engine/proof":      {"engine/policy", "engine/profile", "engine/finding", "engine/quantity"},
	"engine/bundle":     {"engine/policy", "engine/profile", "engine/facts"},
	"engine/plant":      {},
	"engine/bench":      {"engine", "engine/drafting", "engine/report/drawing", "engine/policy", "engine/profile", "engine/finding"},
	// It listens, so it stands apart, and only the command bench imports it.
	"engine/bench/site": {},
	"engine/drafting":   {"engine/calcs", "engine/design", "engine/facts", "engine/finding", "engine/quantity", "engine/report/drawing"},
	"engine/approve":    {"engine/design", "engine/finding"},
	"engine/exercise":   {"engine", "engine/design", "engine/finding", "engine/plant", "engine/profile", "engine/quantity"},
	"engine/rulebook":   {"engine/plant", "engine/profile", "engine/finding", "engine/quantity"},
	"engine/backcheck":  {"engine/finding"},
	"engine/report":     {"engine/calcs", "engine/finding", "engine/limit", "engine/quantity", "engine/report/drawing"},
	// The pictures take plain data, so that the command and the page can draw.
	"engine/report/drawing": {"engine/finding", "engine/quantity"},
	"engine":                {"engine/calcs", "engine/design", "engine/network", "engine/facts", "engine/profile", "engine/policy", "engine/finding", "engine/quantity"},
	"cmd/backpitch-wasm":    {"engine/bench", "policies"},
	"cmd/backpitch":         {"engine", "engine/design", "engine/limit", "engine/exercise", "engine/bench/site", "engine/rulebook", "engine/bundle", "engine/proof", "engine/drafting", "engine/report/drawing", "engine/approve", "engine/backcheck", "engine/report", "engine/finding", "engine/profile", "engine/quantity", "policies", "schema", "testdata/designs"},
}

// opaImporter is the only package that may import OPA, but for its signatures
// of bundles.
const opaImporter = "engine/policy"

var opaSignatures = [2]string{"engine/bundle", "github.com/open-policy-agent/opa/v1/bundle"}

// networkImporter is the only package that may reach a network, and it listens
// on this computer alone.
const networkImporter = "engine/bench/site"

// harmless are packages below net that reach nothing.
var harmless = []string{"net/url", "net/netip", "net/mail", "net/textproto"}

// reaches reports whether a package of the standard library makes connections.
func reaches(name string) bool {
	return (name == "net" || strings.HasPrefix(name, "net/") || name == "crypto/tls" || name == "log/syslog") && !slices.Contains(harmless, name)
}

func TestImportsFollowTheTable(t *testing.T) {
	root := filepath.Join("..")
	seen := map[string]bool{}
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && p != root) {
			return filepath.SkipDir
		}
		if d.IsDir() || filepath.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go") {
			return nil
		}
		rel, err := filepath.Rel(root, filepath.Dir(p))
		if err != nil {
			return err
		}
		pkg := filepath.ToSlash(rel)
		seen[pkg] = true
		checkImports(t, p, pkg)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for pkg := range seen {
		if _, ok := allowed[pkg]; !ok {
			t.Errorf("package %s is not in the table of imports: add it there and to DEVELOPERS.md", pkg)
		}
	}
	for pkg := range allowed {
		if !seen[pkg] {
			t.Errorf("the table of imports names %s, which does not exist", pkg)
		}
	}
}

func checkImports(t *testing.T, file, pkg string) {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	for _, spec := range f.Imports {
		name, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(name, "github.com/open-policy-agent/") && pkg != opaImporter && [2]string{pkg, name} != opaSignatures {
			t.Errorf("%s imports %s: only %s may", file, name, opaImporter)
		}
		if reaches(name) && pkg != networkImporter {
			t.Errorf("%s imports %s: only %s may reach a network", file, name, networkImporter)
		}
		inside, ok := strings.CutPrefix(name, "backpitch/")
		if ok && !slices.Contains(allowed[pkg], path.Clean(inside)) {
			t.Errorf("%s imports %s: package %s may import only %v", file, name, pkg, allowed[pkg])
		}
	}
}
