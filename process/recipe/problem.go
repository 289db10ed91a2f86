package recipe

// The problem as the caller states it.

// Lot is one material that may go into the blend.
type Lot struct {
	Cost  float64 // c, what a kilogram counts in the order wanted [cost/kg]: price, or minus age to use old stock first
	Stock float64 // what there is [kg], 0 to 1e6
	Must  float64 // what has to be used [kg], 0 to Stock
	Least float64 // smallest amount worth weighing: used not at all or at least so much [kg], ≥ 0
	Step  float64 // used in whole steps, a scoop [kg]; 0 where any mass will do
}

// Limit bounds the mean of a property that mixes by mass.
type Limit struct {
	Of []float64 // the property of each lot [its unit]
	Lo float64   // least mean of the blend [the property's unit], −Inf where open
	Hi float64   // greatest mean of the blend [the property's unit], +Inf where open
}

// Curve is a function of the blend that is not linear: how far its colour is
// from the one wanted.
type Curve struct {
	// Value returns g at the masses x [kg], one a lot, and fills slope with
	// ∂g/∂x_i [unit/kg], unless slope is nil. It must not keep either slice, and
	// must answer finite numbers for any x ≥ 0 that has mass.
	Value  func(x, slope []float64) float64
	Limit  float64 // g may not exceed this [unit of g], +Inf where open
	Floor  float64 // g is never below this [unit of g]; 0 for a distance
	Weight float64 // what one unit of g costs [cost/unit of g], ≥ 0
	Convex bool    // promise that g is convex in x; without it no bound is claimed for g

	// Parts and Differences help with a g that is not convex, but about as long
	// as a vector whose entries are nearly linear in x: the three differences
	// of a colour. Differences fills part with the Parts entries and slope[r][i]
	// with ∂part_r/∂x_i [unit/kg]. Without it such a g is cut by its own slopes,
	// which may miss recipes far from where the search starts.
	Parts       int
	Differences func(x, part []float64, slope [][]float64)
}

// Problem is a blend wanted.
type Problem struct {
	Mass   float64 // M, what the blend shall weigh [kg], 1e-6 to 1e6
	Slack  float64 // by how much it may be more or less [kg], 0 to Mass/2; whole steps may need it
	Most   int     // greatest number of lots; 0 where any number will do
	Lots   []Lot
	Limits []Limit
	Curves []Curve
}

// Options steer the search. The zero value suits.
type Options struct {
	Recipes int     // how many different recipes, 1 to 10; 0 stands for 3
	Nodes   int     // greatest number of search nodes a recipe; 0 for 20000, fewer beyond 1000 lots and with curves that are not convex
	Gap     float64 // stop when the cost is proved this near to the best [share of the cost], 0 to 0.5; 0 for 1e-6
	Near    float64 // or stop when it is proved this near [cost], ≥ 0: a difference nobody sees
}

// Bounds of what is answered at all.
const (
	MaxLots   = 100_000
	MaxLimits = 200
	MaxCurves = 8
)
