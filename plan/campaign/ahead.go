package campaign

import (
	"math"
	"time"

	"hopperful/fact"
	"hopperful/plan"
	"hopperful/shop"
)

// Ahead is what still lies before a campaign, planned anew from its records, and
// how its latest charge came out against what was foretold.
type Ahead struct {
	Grinding plan.Grinding
	Cycle    shop.Cycle     // to grind now
	From     shop.LotID     // the scrap to take, "" when the plan names none
	Possible bool           // there is a next charge to grind
	Begun    bool           // what the campaign was begun with still holds: nothing is planned anew
	Last     *plan.Compared // the latest charge against its forecast
}

// fresh is how long a campaign's last record says what the mill is like now: after
// a longer break the plan is made for a mill that has stood. The plan's own bound.
const fresh = 6 * time.Hour

// leastRest is the least that is planned for [kg]: a campaign that lacks a scale's
// digit is not planned to the digit. Judgement.
const leastRest = 1e-3

// moment is when a plan of the rest begins: at the campaign's latest record, so that
// every device that asks gets the same plan.
func moment(c shop.Campaign, now time.Time) time.Time {
	if at := c.Latest; now.Sub(at) < fresh {
		return at
	}
	return now.Truncate(time.Hour)
}

// asBegun reports whether the plan that a campaign was begun with still holds: nothing
// but touches was written down since, and the mill has not stood for long.
func asBegun(s *shop.State, c shop.Campaign, now time.Time) bool {
	if now.Sub(c.Latest) >= fresh {
		return false
	}
	for _, r := range s.History.Backward() {
		if _, touch := r.Body.(*shop.CampaignMarked); !touch {
			return r.ID == c.ID
		}
	}
	return false
}

// Plan plans the rest of a campaign. There is none for one that is over, and none anew
// before anything was ground: what was still wanted then is the prints', with their
// range, and a plan for its upper end would say other charges than those just begun.
func Plan(s *shop.State, id shop.RecordID, now time.Time) (*Ahead, error) {
	c, ok := s.Campaign(id)
	if !ok {
		return nil, missing(id)
	}
	a := &Ahead{}
	if n := len(c.Runs); n > 0 {
		last, err := plan.Compare(s, c.Runs[n-1])
		if err != nil {
			return nil, err
		}
		a.Last = &last
	}
	if !c.Open() || c.Enough() {
		return a, nil
	}
	if asBegun(s, c, now) {
		a.Cycle, a.Possible, a.Begun = c.Now, true, true
		return a, nil
	}
	made, _ := c.Made()
	rest := math.Max(c.Wanted-made, leastRest)
	need := shop.Need{Polymer: c.Polymer}
	if len(c.Needs) > 0 {
		need.Name = c.Needs[0]
	}
	g, err := plan.Grind(s, plan.Request{Need: need, Polymer: c.Polymer, Colour: c.Colour, Lots: c.Lots, Mill: c.Mill,
		Now: moment(c, now), Make: &rest})
	if err != nil {
		return nil, err
	}
	a.Grinding, a.Possible = g, grinds(g)
	if a.Possible {
		a.Cycle = cycleOf(g)
	}
	if len(g.Take) > 0 {
		a.From = g.Take[0].Lot
	}
	return a, nil
}

func missing(id shop.RecordID) error {
	return shop.Refuse(shop.NotFound, "campaign", fact.Say("shop.campaign_unknown", fact.Count("n", int(id))), fact.Say("shop.campaign_list"))
}

// next is the cycle of the next charge: as planned anew, else as last said.
func (a *Ahead) next(c shop.Campaign) shop.Cycle {
	if a != nil && a.Possible {
		return a.Cycle
	}
	return c.Now
}

// Charge is the next charge as it may be started, to be kept with the start.
func Charge(c shop.Campaign, a *Ahead) shop.Cycle { return a.next(c) }

// Filled is the charge that ran, filled in from the plan: what remains is to weigh.
func Filled(s *shop.State, c shop.Campaign, a *Ahead) *shop.Ground {
	b := &shop.Ground{Mill: c.Mill, From: lotOf(s, c, a), Into: c.Into, Charge: c.Now.Charge, Run: c.Now.Run, Level: c.Now.Level, Stalled: c.Stalled, RestBefore: c.Rested}
	if !c.Started.IsZero() && c.Stopped.After(c.Started) {
		b.Run = math.Max(1, math.Round(c.Stopped.Sub(c.Started).Seconds()))
	}
	if lot, ok := s.Lot(b.From); ok && lot.Mass > 0 && b.Charge > lot.Mass {
		b.Charge = lot.Mass
	}
	if into, ok := s.Lot(c.Into); !ok || into.Polymer != "" && into.Polymer != c.Polymer {
		b.Into = ""
	}
	return b
}

// lotOf is the scrap the charge comes from: as planned, else where the last one came
// from, else the first lot that would do.
func lotOf(s *shop.State, c shop.Campaign, a *Ahead) shop.LotID {
	has := func(id shop.LotID) bool {
		lot, ok := s.Lot(id)
		return ok && lot.Mass > 0
	}
	if a != nil && has(a.From) {
		return a.From
	}
	if n := len(c.Runs); n > 0 {
		if r, ok := s.Record(c.Runs[n-1]); ok {
			if g, is := r.Body.(*shop.Ground); is && has(g.From) {
				return g.From
			}
		}
	}
	ids := c.Lots
	if len(ids) == 0 {
		ids = s.Order
	}
	for _, id := range ids {
		if lot, ok := s.Lot(id); ok && lot.Class == shop.Scrap && lot.Polymer == c.Polymer && lot.Mass > 0 {
			return id
		}
	}
	return ""
}
