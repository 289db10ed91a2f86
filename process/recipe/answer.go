package recipe

// What Solve answers.

// Use is how much of one lot a recipe takes.
type Use struct {
	Lot   int     // index into Problem.Lots
	Mass  float64 // [kg]
	Steps int     // whole steps, where the lot has a step
	Price float64 // what a kilogram more of this lot in stock would change with the same lots [cost/kg]: ≤ 0, below 0 where the stock binds
}

// Reading is a limit as a recipe keeps it.
type Reading struct {
	Value float64 // mean of the blend, or g [the limit's unit]
	Room  float64 // how far inside the nearest side of the limit [the limit's unit], +Inf where open
	Price float64 // what a rise of the limit that binds would change, with the same lots [cost/unit]: below 0 at an upper, above 0 at a lower limit
}

// Binds reports whether the limit decides what the recipe costs.
func (r Reading) Binds() bool { return r.Price != 0 }

// Recipe is a blend that keeps every condition, by its true values.
type Recipe struct {
	Uses   []Use     // the lots used, by index
	Mass   float64   // [kg]
	Cost   float64   // Σ c x + Σ w g [cost]
	Limits []Reading // one a limit
	Curves []Reading // one a curve
	PerKG  float64   // what the last kilogram of blend costs, with the same lots [cost/kg]
}

// Answer is what is known of a problem.
type Answer struct {
	Recipes  []Recipe  // the best first; each later one does without a lot of every one before it; none when nothing was found
	Bound    float64   // no recipe costs less [cost]; +Inf when none is possible
	Proved   bool      // the first recipe is the best within Options.Gap or Options.Near, or it is proved that there is none
	Reduced  []float64 // what a kilogram of each lot adds at least [cost/kg], by the relaxation; nil when nothing is possible
	Conflict *Conflict // why there is no recipe; nil when there is one, or when the search ended before it knew
	Nearest  *Nearest  // the nearest possible when there is no recipe
	Nodes    int       // search nodes spent
	Pivots   int       // simplex pivots spent
}

// Conflict names conditions that cannot all be kept. When Least is true the set
// is as small as can be: without any one of them there would be a recipe.
type Conflict struct {
	Stock bool  // what is there
	Must  bool  // what has to be used
	Most  bool  // the number of lots
	Steps bool  // whole steps
	Small bool  // least amounts
	Low   []int // limits by their least mean
	High  []int // limits by their greatest mean
	Curve []int // curved limits
	Least bool  // no condition in the set could be left out
}

// Nearest is the blend that breaks as little as possible: the curves alone where
// all else can be kept, by the sum of each g over its limit; if not, each limit measured by how far apart the lots lie
// in it, the mass by the mass wanted.
type Nearest struct {
	Uses   []Use     // the lots used, by index; none where nothing can be blended
	Mass   float64   // [kg]
	Short  float64   // mass wanted minus mass made [kg], below 0 where it is more
	Over   []float64 // by how far each mean is outside its limit [the limit's unit]: above 0 over, below 0 under, 0 inside
	Curves []float64 // by how much each g is over its limit [the limit's unit], 0 inside
}
