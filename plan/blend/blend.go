package blend

import (
	"time"

	"hopperful/answer"
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
	Answer   string              `json:"answer"`            // one sentence
	Possible bool                `json:"possible"`          // a recipe keeps every limit
	Proved   bool                `json:"proved"`            // no better one exists, or none at all
	Blocked  *answer.Block       `json:"blocked,omitempty"` // what stands in the way
	Polymer  string              `json:"polymer"`
	NeedName string              `json:"need_name"`
	Order    Order               `json:"order"`
	Wanted   *traceability.Shade `json:"wanted,omitempty"` // the colour wanted
	Need     figure.Figure       `json:"need"`             // granulate to weigh out
	Recipes  []Recipe            `json:"recipes"`          // the best first, at most two different ones more
	Limits   []answer.Limit      `json:"limits"`           // as the best recipe keeps them, and what relaxing would give
	Nearest  *Recipe             `json:"nearest,omitempty"`
	Eases    []Ease              `json:"eases"`   // limits moved, and what that gives
	Aside    []answer.Aside      `json:"aside"`   // lots left alone, why, and what would change that
	WhyNot   []answer.Aside      `json:"why_not"` // answers for the lots asked about
	Steps    []answer.Step       `json:"steps"`   // the batch sheet
	Spoilers []answer.Finding    `json:"-"`       // what could spoil it, worst first; the edges word it
	Cautions []answer.Caution    `json:"cautions"`
	Notes    []string            `json:"notes"`
}

// Recipe is one blend.
type Recipe struct {
	Portions []Portion           `json:"portions"` // the largest first
	Mass     figure.Figure       `json:"mass"`
	Figures  []figure.Figure     `json:"figures"`           // age, flow, dust, colour, cost, as far as known
	Mixed    *traceability.Shade `json:"mixed,omitempty"`   // its colour once melted well; nil where a part's is not known
	Unmixed  *traceability.Shade `json:"unmixed,omitempty"` // side by side
	Breaks   []string            `json:"breaks"`            // limits it does not keep, with figures; none in a recipe
}

// Portion is what one lot gives.
type Portion struct {
	Lot     shop.LotID    `json:"lot"`
	Name    string        `json:"name"`
	Class   shop.Class    `json:"class"`
	Colour  string        `json:"colour"`
	RGB     string        `json:"rgb,omitempty"`
	Mass    figure.Figure `json:"mass"`
	Share   float64       `json:"share"`         // of the blend
	Running float64       `json:"running_kg"`    // total on the scale once it is in
	Left    float64       `json:"left_kg"`       // of the lot afterwards
	All     bool          `json:"all"`           // the lot is used up
	Why     string        `json:"why,omitempty"` // what using more of it would give
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
