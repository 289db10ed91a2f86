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
	Says     fact.Saying      // the answer
	Possible bool             // every limit holds
	Trial    *Trial           // a single charge to be read; the plan follows from it
	Empty    *figure.Figure   // what earlier charges left, to be taken out first; nil: no need
	Moved    *Moved           // what changed since the latest charge, and why
	Blocked  *answer.Block    // why not, when it is not possible
	Spoilers []answer.Finding // what could spoil it, worst first, at most three
	Mill     string
	Polymer  string
	NeedName string
	Need     figure.Figure // granulate wanted; its inputs are the parts
	Product  figure.Figure // granulate expected from the whole campaign
	Setting  Setting       // the cycle to run
	OnHand   []Take        // granulate that already serves the need, used first
	Take     []Take        // lots to grind, in this order
	Aside    []answer.Aside
	Limits   []answer.Limit  // every limit the plan was held against
	Balance  Balance         // where every gram goes
	Figures  []figure.Figure // everything else worth a row: energy, cost, noise, sizes …
	Steps    []answer.Action // what to do, in order
	Lacks    fact.Saying     // what the mill's owner says it lacks; may be empty
	Cautions []answer.Finding
	Next     []fact.Saying  // what still stands between this granulate and the print
	Charts   []answer.Chart // temperature, yield, sizes
	Draws    int
	Seed     uint64
}

// Setting is the cycle of a campaign.
type Setting struct {
	Charge   figure.Figure  // grams a charge
	Charges  figure.Figure  // how many
	Level    *figure.Figure // of the controller; nil without one
	Power    figure.Figure  // electrical, at that level
	Run      figure.Figure  // time a charge is ground
	Rest     figure.Figure  // time from the end of a run to the start of the next, handling included
	Below    *figure.Figure // the wall, before a next charge; nil: no matter
	Wait     *figure.Figure // rest before the first charge, in a mill still warm
	JarEvery figure.Figure  // empty the jar after this many charges
	Total    figure.Figure  // from the first start to the last stop
	StopAt   figure.Figure  // granulate in the jar that is enough
	Replan   []int          // plan again after these charges
	Finish   time.Time      // if it starts at the plan's now
}

// Take is material to grind.
type Take struct {
	Lot    shop.LotID
	Name   string
	Colour string
	RGB    string
	Mass   figure.Figure
	Why    fact.Saying
}

// Balance is the campaign's mass balance; In = Product + Left + Lost.
type Balance struct {
	In      figure.Figure
	Product figure.Figure
	Left    figure.Figure // stays in the mill at the end
	Lost    figure.Figure // dust and spill
}
