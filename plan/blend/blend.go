package blend

import (
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

// Request asks which lots to blend for a need, and how much of each.
type Request struct {
	Need      shop.Need
	Polymer   string         // overrides the need's, may be empty
	RGB       string         // the colour wanted, "#c0402a"; empty: the need's, or its word
	AnyColour bool           // whatever the need says
	WithinDE  *float64       // colour difference allowed, CIEDE2000 [1]; nil: 5
	MostLots  int            // 0: 4, which a person can weigh by hand
	Step      float64        // whole steps to weigh in, a scoop [kg]; 0: a digit of the scale
	Least     float64        // smallest amount of a lot worth weighing [kg]; 0: ten digits of the scale
	Reserve   *float64       // more than the part weighs, for purge and start-up [1]; nil: what the print wants in nine of ten cases
	Order     Order          // what is sought first; empty: old stock
	Lots      []shop.LotID   // only these, also of another polymer; empty: whatever fits
	Without   []shop.LotID   // none of these
	Weighed   []shop.Portion // in the bucket already: just so much of these, and the rest made up around them
	WhyNot    []shop.LotID   // lots to say of why they are not in the recipe
	MeanAge   *float64       // most passes the blend may have on average [1]
	OldestAge *float64       // most passes of the oldest twentieth of any lot [1]
	Fines     *float64       // most dust [1]
	Moisture  *float64       // most water after the drying the polymer wants [1]
	Metal     *float64       // most metal left [1]
	FlowLow   *float64       // melt flow rate at least [kg/s]
	FlowHigh  *float64       // melt flow rate at most [kg/s]
	Soon      bool           // one recipe at once: without the next best ones, and without what relaxing a limit would give
	Sturdy    bool           // the part has to hold: other plastics at the stricter limit
	Now       time.Time      // when granulate is as dry as it is; zero: the newest record
}

// Order is what a blend is sought by.
type Order string

// The orders.
const (
	OldFirst      Order = "old stock first"
	Cheapest      Order = "cheapest"
	NearestColour Order = "nearest colour"
)

// Orders are all orders.
func Orders() []Order { return []Order{OldFirst, Cheapest, NearestColour} }

// Blending is a recipe for a need, or why there is none.
type Blending struct {
	Says     fact.Saying   // the answer
	Possible bool          // a recipe keeps every limit
	Proved   bool          // no better one exists, or none at all
	Blocked  *answer.Block // what stands in the way
	Polymer  string
	NeedName string
	Order    Order
	Wanted   *traceability.Shade // the colour wanted
	Need     figure.Figure       // granulate to weigh out
	Recipes  []Recipe            // the best first, at most two different ones more
	Limits   []answer.Limit      // as the best recipe keeps them, and what relaxing would give
	Nearest  *Recipe
	Eases    []Ease          // limits moved, and what that gives
	Aside    []answer.Aside  // lots left alone, why, and what would change that
	WhyNot   []answer.Aside  // answers for the lots asked about
	Steps    []answer.Action // the batch sheet
	Spoilers []answer.Finding
	Cautions []answer.Finding
	Notes    []fact.Saying
}

// Recipe is one blend.
type Recipe struct {
	Portions []Portion // the largest first
	Mass     figure.Figure
	Figures  []figure.Figure     // age, flow, dust, colour, cost, as far as known
	Mixed    *traceability.Shade // its colour once melted well; nil where a part's is not known
	Unmixed  *traceability.Shade // side by side
	Breaks   []fact.Saying       // limits it does not keep; none in a recipe
}

// Portion is what one lot gives.
type Portion struct {
	Lot     shop.LotID
	Name    string
	Class   shop.Class
	Colour  string
	RGB     string
	Mass    figure.Figure
	Share   float64     // of the blend
	Running float64     // total on the scale once it is in [kg]
	Left    float64     // of the lot afterwards [kg]
	All     bool        // the lot is used up
	Why     fact.Saying // what using more of it would give; may be empty
}

// Record is the blend as a record to keep; false when there is no recipe.
func (b Blending) Record(name string) (*shop.Blended, bool) {
	if !b.Possible {
		return nil, false
	}
	r := &shop.Blended{Name: name, Polymer: b.Polymer}
	for _, p := range b.Recipes[0].Portions {
		r.From = append(r.From, shop.Portion{Lot: p.Lot, Mass: p.Mass.Value})
	}
	return r, true
}

// What a blend takes where nobody said. Judgement.
const (
	blendMost   = 4   // lots weighed by hand without losing count
	blendWithin = 5.0 // plainly another colour beyond that
	blendDigits = 10  // of the scale in the smallest portion: its digit errs by a twentieth
)
