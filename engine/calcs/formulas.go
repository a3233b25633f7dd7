package calcs

// formula is one entry of the catalogue. The expressions are plain arithmetic:
// + - * / ^, sqrt, log10, ln, sin, acos in radians, max, pi; each for the units
// of its system.
type formula struct {
	title   string
	result  symbol
	symbols []symbol
	us, si  string
	source  string
}

type symbol struct {
	name    string
	meaning string
	measure string
}

func same(expression string) (string, string) { return expression, expression }

// add puts a formula into the catalogue; twice the same id is a slip of ours.
func add(id, title string, result symbol, symbols []symbol, us, si, source string) {
	if _, ok := catalogue[id]; ok {
		panic("calcs: formula " + id + " twice")
	}
	for _, s := range append([]symbol{result}, symbols...) {
		if _, ok := measures[s.measure]; !ok {
			panic("calcs: formula " + id + ": no measure " + s.measure)
		}
	}
	catalogue[id] = formula{title, result, symbols, us, si, source}
	order = append(order, id)
}

var (
	catalogue = map[string]formula{}
	order     []string // of the sheet
)

const (
	flowCurve = "the profile's flow curve, straight lines between its rows; a supply curve, whose use for drainage is common practice"
	energy    = "energy equation"
	geometry  = "geometry"
	cyclePage = "MIL-HDBK-1005/9A pages 31-32 (checked) without drain-back; the drain-back term is own derivation"
	afloat    = "ETL 1110-2-307 and EM 1110-2-2100 section 3.8 (checked), basin empty"
	colebrook = "Colebrook-White, with the bore of the full pipe replaced by four hydraulic radii (EN 12056-2 Annex B, from memory)"
	segment   = "circular segment, angles in radians"
)

func flow(name, meaning string) symbol   { return symbol{name, meaning, "flow"} }
func length(name, meaning string) symbol { return symbol{name, meaning, "length"} }
func short(name, meaning string) symbol  { return symbol{name, meaning, "short"} }
func number(name, meaning string) symbol { return symbol{name, meaning, "number"} }
func volume(name, meaning string) symbol { return symbol{name, meaning, "volume"} }

var (
	velocity = symbol{"V", "mean velocity", "velocity"}
	slope    = symbol{"S", "slope", "slope"}
	load     = symbol{"F", "load", "load"}
	bore     = short("d", "bore")
	radius   = short("R", "hydraulic radius")
	filling  = number("y", "depth of flow over bore")
)

// The order of the calls is the order of the sheet.
func init() {
	loadFormulas()
	drainFormulas()
	headFormulas()
	pumpFormulas()
	basinFormulas()
	flotationFormulas()
	leavingFormulas()
}

func loadFormulas() {
	us, si := same("Qa + (Qb - Qa) * (F - Fa) / (Fb - Fa)")
	add("peak_curve", "peak flow of a load", flow("Qg", "peak flow by gravity"),
		[]symbol{load, {"Fa", "load of the row below", "load"}, {"Fb", "load of the row above", "load"}, flow("Qa", "flow of the row below"), flow("Qb", "flow of the row above")},
		us, si, flowCurve)
	us, si = same("Qa")
	add("peak_first_row", "peak flow of a load below the first row", flow("Qg", "peak flow by gravity"),
		[]symbol{flow("Qa", "flow of the first row")}, us, si, flowCurve+"; below the first row its flow holds")
	add("peak_units", "peak flow of discharge units", flow("Qg", "peak flow by gravity"),
		[]symbol{number("K", "frequency of use"), {"F", "sum of discharge units, l/s each", "load"}, {"Fl", "largest single unit", "load"}},
		"15.8503 * max(K * sqrt(F), Fl)", "max(K * sqrt(F), Fl)", "EN 12056-2:2000 table 3 (checked); the largest unit as floor (checked)")
	us, si = same("Qg + Qc + Qp")
	add("design_flow", "design flow", flow("Q", "design flow"),
		[]symbol{flow("Qg", "peak flow by gravity"), flow("Qc", "stated continuous flow"), flow("Qp", "pumped flow")}, us, si,
		"continuity: continuous and pumped flow are added undiversified (common practice)")
}

func drainFormulas() {
	n := number("n", "Manning coefficient")
	add("full_manning", "capacity running full", flow("Qf", "flow of the full pipe"), []symbol{n, bore, slope},
		"0.275409 / n * d^(8/3) * S^(1/2)", "0.00000311685 / n * d^(8/3) * S^(1/2)", "Manning (1.486/n in feet): engineeringprep.com problem 472")
	k := short("k", "roughness")
	add("full_colebrook", "capacity running full", flow("Qf", "flow of the full pipe"), []symbol{k, bore, slope},
		"-4.89599 * d^2 * sqrt(5.36234 * d * S) * log10(k / (3.7 * d) + 0.000424714 / (d * sqrt(5.36234 * d * S)))",
		"-0.00157080 * d^2 * sqrt(0.0196133 * d * S) * log10(k / (3.7 * d) + 0.0032881 / (d * sqrt(0.0196133 * d * S)))", colebrook)
	us, si := same("d^2 / 8 * (2 * acos(1 - 2 * y) - sin(2 * acos(1 - 2 * y)))")
	add("wetted_area", "wetted area", symbol{"A", "wetted area", "area"}, []symbol{bore, filling}, us, si, segment)
	us, si = same("d / 4 * (1 - sin(2 * acos(1 - 2 * y)) / (2 * acos(1 - 2 * y)))")
	add("hydraulic_radius", "hydraulic radius", radius, []symbol{bore, filling}, us, si, segment)
	add("velocity_manning", "velocity at that depth", velocity, []symbol{n, radius, slope},
		"1.48592 / n * (R / 12)^(2/3) * S^(1/2)", "1 / n * (R / 1000)^(2/3) * S^(1/2)", "Manning: engineeringprep.com problem 472")
	add("velocity_colebrook", "velocity at that depth", velocity, []symbol{k, radius, slope},
		"-2 * sqrt(21.4494 * R * S) * log10(k / (14.8 * R) + 0.000424714 / (4 * R * sqrt(21.4494 * R * S)))",
		"-2 * sqrt(0.0784532 * R * S) * log10(k / (14.8 * R) + 0.0032881 / (4 * R * sqrt(0.0784532 * R * S)))", colebrook)
	add("flow_check", "the depth carries the design flow", flow("Q", "design flow"), []symbol{velocity, {"A", "wetted area", "area"}},
		"3.11688 * V * A", "V * A / 1000", "continuity; the depth was found by bisection, the lower one where two carry the flow")
}
