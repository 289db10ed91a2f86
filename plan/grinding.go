package plan

import (
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/shop"
)

// Request says what a grinding plan is wanted for.
type Request struct {
	Need    shop.Need    // what the print eats
	Also    []shop.Need  // prints of the same plastic that share the campaign
	Make    *float64     // granulate still to be made [kg]: the rest of a campaign; nil: what the prints want less what is on hand
	Polymer string       // overrides the need's, may be empty
	Colour  string       // only lots of this colour; empty: any
	Lots    []shop.LotID // only these lots; empty: whatever fits
	Mill    string       // empty: the only mill, or the first
	Now     time.Time    // when the plan starts
	By      time.Time    // when it has to be done; zero: no matter
	Seed    uint64       // of the draws; 0 takes a fixed one
	Draws   int          // 0 takes 400
	only    bool         // nobody named the polymer, and the stock holds one
	Moved   bool         // tell what the latest record moved: two more plans
}

// Grinding is a plan for a campaign on one mill.
type Grinding struct {
	Answer   string           `json:"answer"`                // one sentence with its figures
	Possible bool             `json:"possible"`              // every limit holds
	Trial    *Trial           `json:"trial,omitempty"`       // a single charge to be read; the plan follows from it
	Empty    *figure.Figure   `json:"empty_first,omitempty"` // what earlier charges left, to be taken out first; nil: no need
	Moved    *Moved           `json:"-"`                     // what changed since the latest charge, and why
	Blocked  *answer.Block    `json:"blocked,omitempty"`     // why not, when it is not possible
	Spoilers []answer.Spoiler `json:"spoilers"`              // what could spoil it, worst first, at most three
	Mill     string           `json:"mill"`
	Polymer  string           `json:"polymer"`
	NeedName string           `json:"need_name"`
	Need     figure.Figure    `json:"need"`    // granulate wanted; its inputs are the parts
	Product  figure.Figure    `json:"product"` // granulate expected from the whole campaign
	Setting  Setting          `json:"setting"` // the cycle to run
	OnHand   []Take           `json:"on_hand"` // granulate that already serves the need, used first
	Take     []Take           `json:"take"`    // lots to grind, in this order
	Aside    []answer.Aside   `json:"aside"`   // lots left alone, or to be prepared first, and why
	Limits   []answer.Limit   `json:"limits"`  // every limit the plan was held against
	Balance  Balance          `json:"balance"` // where every gram goes
	Figures  []figure.Figure  `json:"figures"` // everything else worth a row: energy, cost, noise, sizes …
	Steps    []answer.Step    `json:"steps"`   // what to do, in order
	Cautions []answer.Caution `json:"cautions"`
	Next     []fact.Saying    `json:"-"`      // what still stands between this granulate and the print
	Told     []string         `json:"next"`   // the same in words, which the edges put in
	Charts   []answer.Chart   `json:"charts"` // temperature, yield, sizes
	Draws    int              `json:"draws"`
	Seed     uint64           `json:"seed"`
}

// Setting is the cycle of a campaign.
type Setting struct {
	Charge   figure.Figure  `json:"charge"`                // grams a charge
	Charges  figure.Figure  `json:"charges"`               // how many
	Level    *figure.Figure `json:"level,omitempty"`       // of the controller; nil without one
	Power    figure.Figure  `json:"power"`                 // electrical, at that level
	Run      figure.Figure  `json:"run"`                   // time a charge is ground
	Rest     figure.Figure  `json:"rest"`                  // time from the end of a run to the start of the next, handling included
	Below    *figure.Figure `json:"start_below,omitempty"` // the wall, before a next charge; nil: no matter
	Wait     *figure.Figure `json:"wait,omitempty"`        // rest before the first charge, in a mill still warm
	JarEvery figure.Figure  `json:"jar_every"`             // empty the jar after this many charges
	Total    figure.Figure  `json:"total"`                 // from the first start to the last stop
	StopAt   figure.Figure  `json:"stop_at"`               // granulate in the jar that is enough
	Replan   []int          `json:"replan"`                // plan again after these charges
	Finish   time.Time      `json:"finish"`                // if it starts at the plan's now
}

// Take is material to grind.
type Take struct {
	Lot    shop.LotID    `json:"lot"`
	Name   string        `json:"name"`
	Colour string        `json:"colour,omitempty"`
	RGB    string        `json:"rgb,omitempty"`
	Mass   figure.Figure `json:"mass"`
	Why    string        `json:"why"`
}

// Balance is the campaign's mass balance; In = Product + Left + Lost.
type Balance struct {
	In      figure.Figure `json:"in"`
	Product figure.Figure `json:"product"`
	Left    figure.Figure `json:"left"` // stays in the mill at the end
	Lost    figure.Figure `json:"lost"` // dust and spill
}
