package hydraulics

// boreRow is a size in the unit of its series. serves is the EN 12056 nominal
// size that an outside diameter serves, where the two differ.
type boreRow struct {
	dn     int
	bore   float64
	serves int
	basis  Basis // where it differs from the series
}

type boreTable struct {
	unit   float64 // m
	basis  Basis
	source string
	rows   []boreRow
}

const (
	sourceD1785    = "ASTM D1785 dimension sheet, pdfcoffee.com/astm-d1785-3-pdf-free.html"
	sourceD2665    = "ASTM D2665 wall ranges, pdfcoffee.com/astm-d1785-9-pdf-free.html"
	sourceA74      = "ASTM A74 service weight, inside diameter of barrel, read in an installation guide (manualshelf.com); 1-1/2 in is no-hub; no-hub bores are the same (from memory)"
	sourceB306     = "ASTM B306, engineeringtoolbox.com/amp/copper-tube-astm-306-d_1083.html"
	sourceB88      = "ASTM B88 type L, engineeringtoolbox.com/astm-copper-tubes-d_779.html and sizes.com/materls/pipeCopper.htm"
	sourceEN1329   = "EN 1329-1 area B, outside diameter less two least walls"
	sourceEN1519   = "EN 1519-1 series S 12.5, outside diameter less two least walls; DN 110 wall 4.2 mm read in 123doc.top, EN 1519 marking tables"
	sourceEN1451   = "EN 1451-1 series S 20 and S 16, outside diameter less two least walls"
	sourceD2661    = "ASTM D2661, Schedule 40 dimensions"
	sourceF441     = "ASTM F441 CPVC, Schedule 40 dimensions"
	sourceSteel    = "Schedule 40 steel bores, piping-designer.com/index.php/datasheets/piping-layout-information/2706-equivalent-feet-of-straight-pipe"
	sourceDuctile  = "AWWA C151 pressure class 350 without lining, outside diameter less two walls"
	sourceF714     = "ASTM F714 polyethylene DR 17 on iron pipe sizes, outside diameter less 2.12 walls"
	sourceSteel10S = "Schedule 10S stainless drainage tube, outside diameter less two walls"
	sourceClay     = "vitrified clay, bore equal to nominal size"
)

// schedule40 is in inches.
var schedule40 = []boreRow{
	{dn: 32, bore: 1.380}, {dn: 40, bore: 1.610}, {dn: 50, bore: 2.067}, {dn: 65, bore: 2.469}, {dn: 80, bore: 3.068},
	{dn: 100, bore: 4.026}, {dn: 150, bore: 6.065}, {dn: 200, bore: 7.981},
}

// schedulePressure adds the small sizes, which are made for pressure only.
var schedulePressure = append([]boreRow{{dn: 20, bore: 0.824}, {dn: 25, bore: 1.049}}, schedule40...)

// scheduleDrain leaves out 2-1/2 in, which the drainage standards do not make.
var scheduleDrain = []boreRow{
	{dn: 32, bore: 1.380}, {dn: 40, bore: 1.610}, {dn: 50, bore: 2.067}, {dn: 80, bore: 3.068},
	{dn: 100, bore: 4.026}, {dn: 150, bore: 6.065}, {dn: 200, bore: 7.981},
}

var boreSeries = map[string]boreTable{
	"pvc_sch40":        {inch, Checked, sourceD1785, schedulePressure},
	"abs_sch40":        {inch, FromMemory, sourceD2661, schedule40},
	"pvc_dwv":          {inch, Checked, sourceD2665, scheduleDrain},
	"abs_dwv":          {inch, FromMemory, sourceD2661, scheduleDrain},
	"cpvc":             {inch, FromMemory, sourceF441, schedule40},
	"steel_galvanized": {inch, Checked, sourceSteel, schedule40},
	"cast_iron": {inch, Checked, sourceA74, []boreRow{
		{dn: 40, bore: 1.50, basis: FromMemory}, {dn: 50, bore: 1.96}, {dn: 80, bore: 2.96}, {dn: 100, bore: 3.94},
		{dn: 125, bore: 4.94}, {dn: 150, bore: 5.94}, {dn: 200, bore: 7.94}, {dn: 250, bore: 9.94}, {dn: 300, bore: 11.94}}},
	"copper_dwv": {inch, Checked, sourceB306, []boreRow{
		{dn: 32, bore: 1.295}, {dn: 40, bore: 1.541}, {dn: 50, bore: 2.041}, {dn: 80, bore: 3.030}, {dn: 100, bore: 4.009},
		{dn: 125, bore: 4.981}, {dn: 150, bore: 5.959}}},
	"copper_l": {inch, Checked, sourceB88, []boreRow{
		{dn: 32, bore: 1.265}, {dn: 40, bore: 1.505}, {dn: 50, bore: 1.985}, {dn: 65, bore: 2.465}, {dn: 80, bore: 2.945},
		{dn: 100, bore: 3.905, basis: FromMemory}, {dn: 125, bore: 4.875}, {dn: 150, bore: 5.845}}},
	"ductile_iron": {inch, FromMemory, sourceDuctile, []boreRow{
		{dn: 80, bore: 3.46}, {dn: 100, bore: 4.30}, {dn: 150, bore: 6.40}, {dn: 200, bore: 8.55}}},
	"pe": {inch, FromMemory, sourceF714, []boreRow{
		{dn: 32, bore: 1.453}, {dn: 40, bore: 1.663}, {dn: 50, bore: 2.078}, {dn: 80, bore: 3.063}, {dn: 100, bore: 3.938},
		{dn: 150, bore: 5.798}}},
	"stainless_304":  {inch, FromMemory, sourceSteel10S, stainless10},
	"stainless_316l": {inch, FromMemory, sourceSteel10S, stainless10},
	"vitrified_clay": {inch, FromMemory, sourceClay, []boreRow{
		{dn: 80, bore: 3}, {dn: 100, bore: 4}, {dn: 150, bore: 6}, {dn: 200, bore: 8}}},
	"pvc_u_en": {1e-3, FromMemory, sourceEN1329, []boreRow{
		{dn: 32, bore: 26, serves: 30}, {dn: 40, bore: 34}, {dn: 50, bore: 44}, {dn: 63, bore: 57, serves: 60},
		{dn: 75, bore: 69, serves: 70}, {dn: 90, bore: 84, serves: 80}, {dn: 110, bore: 103.6, serves: 100},
		{dn: 125, bore: 118.6}, {dn: 160, bore: 153.6, serves: 150}, {dn: 200, bore: 192.2}}},
	"pe_en": {1e-3, FromMemory, sourceEN1519, []boreRow{
		{dn: 32, bore: 26, serves: 30}, {dn: 40, bore: 34}, {dn: 50, bore: 44}, {dn: 63, bore: 57, serves: 60},
		{dn: 75, bore: 69, serves: 70}, {dn: 90, bore: 83, serves: 80}, {dn: 110, bore: 101.6, serves: 100, basis: Checked},
		{dn: 125, bore: 115.4}, {dn: 160, bore: 147.6, serves: 150}, {dn: 200, bore: 184.6}}},
	"pp_en": {1e-3, FromMemory, sourceEN1451, []boreRow{
		{dn: 32, bore: 28.4, serves: 30}, {dn: 40, bore: 36.4}, {dn: 50, bore: 46.4}, {dn: 75, bore: 71.2, serves: 70},
		{dn: 90, bore: 85.6, serves: 80}, {dn: 110, bore: 104.6, serves: 100}, {dn: 125, bore: 118.8},
		{dn: 160, bore: 152.2, serves: 150}}},
}

var stainless10 = []boreRow{
	{dn: 40, bore: 1.682}, {dn: 50, bore: 2.157}, {dn: 80, bore: 3.260}, {dn: 100, bore: 4.260}, {dn: 150, bore: 6.357},
}
