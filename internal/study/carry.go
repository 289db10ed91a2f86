package study

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"hopperful/answer"
	"hopperful/internal/study/outside"
	"hopperful/plan"
	"hopperful/shop"
)

// Plans carried out to the letter: the program is asked how to grind what a
// print wants, one charge is ground so, what was read is written down, and it
// is asked again, until it says that there is enough.

// Campaign is how one went.
type Campaign struct {
	Records  int     // before it
	Need     float64 // mass of the print [kg]
	Possible bool    // a campaign that keeps every limit exists, by trying them all in the true mill
	Best     float64 // the time of the quickest of them [s]

	Charges, Trials int
	Swept           int     // times the mill was emptied first
	Ground, Made    float64 // scrap put in, granulate got [kg]
	Time            float64 // from the first start to the last stop [s]
	Ended           End
	Said            string // why it could not go on

	Hot, Warm, Shown, Stalls, Full int     // charges that were over a limit; Shown: on the thermometer
	Over                           float64 // the most any charge was over its limit [K]
	Below                          int     // charges below the lowest level on record

	Promised float64 // time the first plan said it would take [s]
	Steps    []Step

	rivals *rivals
}

// Step is one charge of a campaign: what was asked for and why, what was forecast, what came.
type Step struct {
	outside.Setting
	Trial    string     // why a single charge was asked for; empty: of a campaign
	Emptied  bool       // first
	Probe    bool       // the charge's temperature is asked for
	Wait     float64    // before it [s]
	Wall     float64    // it began on [K]
	Forecast [2]float64 // hottest charge, middle and 90 % end [K]
	Read     float64    // of the charge afterwards [K]; 0: it was not
	Gave     outside.Gave
}

// String is a step as one line.
func (s Step) String() string {
	return fmt.Sprintf("%.0f g L%d %.0f s, wait %.0f on %.0f °C, empty %v, %s: hottest %.1f °C (forecast %.1f to %.1f, read %.0f), wall %.1f, %.0f g out, %.0f left, stalled %v",
		1000*s.Charge, s.Level, s.Time, s.Wait, s.Wall-273.15, s.Emptied, s.Trial, s.Gave.Hottest-273.15, s.Forecast[0]-273.15, s.Forecast[1]-273.15, s.Read-273.15,
		s.Gave.Wall-273.15, 1000*s.Gave.Product, 1000*s.Gave.Left, s.Gave.Stalled)
}

// End is why a campaign ended.
type End int

// The ends.
const (
	Enough  End = iota // the program says there is enough
	Blocked            // the program says it cannot be done, and asks for no trial
	Endless            // it would still go on after mostCharges
)

// mostCharges is when a campaign is given up: nobody grinds more for half a kilogram. Judgement; at 40
// one was cut off 36 g before its end, in a mill whose best campaign takes five and a half hours.
const mostCharges = 60

// touch is what a wall may be touched at [K], and apart how far a charge stays
// below softening: the limits that plans are held against.
const (
	touch = 273.15 + 55
	apart = 10.0
)

// Broke says whether a campaign broke a limit that its maker could have known.
func (c Campaign) Broke() bool { return c.Hot+c.Shown+c.Stalls+c.Full > 0 }

// Sated says whether it made what was needed.
func (c Campaign) Sated() bool { return c.Ended == Enough && c.Made >= c.Need-0.001 }

// evening is a copy of the maker on the first evening of a campaign: mill cold,
// no granulate left from before.
func (m *maker) evening(chance *rand.Rand) (*maker, error) {
	c := *m
	c.chance = chance
	c.mill = m.mill.Copy(chance)
	return &c, c.day()
}

// carryOut grinds what a need wants as the program says.
func (m *maker) carryOut(need float64) (Campaign, error) {
	c := Campaign{Records: len(m.yields), Need: need}
	lowest := math.MaxInt
	for _, r := range m.ran {
		lowest = min(lowest, r.Level)
	}
	var err error
	want, ran := need, slices.Clone(m.ran)
	for c.Charges < mostCharges {
		var g plan.Grinding
		if g, err = m.plan(need); err != nil {
			return c, fmt.Errorf("planning after %d charges: %w", c.Charges, err)
		}
		if c.Charges == 0 {
			want, c.Promised = g.Need.Value, g.Setting.Total.Value
		}
		set, ok := settingOf(g)
		if !ok {
			c.Ended, c.Said = Enough, g.Says.Code
			if !g.Possible {
				c.Ended = Blocked
			}
			break
		}
		trial := g.Trial != nil
		if set.Level > 0 && set.Level < lowest && lowest < math.MaxInt {
			c.Below++
		}
		if trial {
			c.Trials++
		}
		wait := 0.0
		if c.Charges > 0 {
			wait = handling
		}
		if g.Setting.Wait != nil {
			wait = math.Max(wait, g.Setting.Wait.Value)
		}
		if below := g.Setting.Below; below != nil && c.Charges > 0 { // the thermometer says when
			wait = m.cools(below.Value)
		}
		step := Step{Setting: set, Emptied: g.Empty != nil, Wait: wait}
		if trial {
			step.Trial = g.Trial.Why.Code
		}
		step.Probe = slices.ContainsFunc(g.Steps, func(a answer.Action) bool { return a.Do.Code == "plan.probe" || a.Do.Code == "plan.probe_gains" })
		for _, l := range g.Limits {
			if l.Key == "charge_temperature" {
				step.Forecast = [2]float64{l.Figure.Value, l.Figure.High}
			}
		}
		if err := m.carryCharge(&c, step); err != nil {
			return c, err
		}
		c.Ended = Endless
	}
	c.rivals = &rivals{m.mill, want, ran}
	best, possible := quickest(m.mill, want, fence{})
	c.Best, c.Possible = best.Time, possible
	return c, nil
}

// plan asks how to grind a need: the one place.
func (m *maker) plan(need float64) (plan.Grinding, error) {
	return plan.Grind(m.state, plan.Request{Need: shop.Need{Name: "print", From: "typed", Polymer: m.mill.Face.Polymer, Mass: &need},
		Polymer: m.mill.Face.Polymer, Mill: millName, Now: m.at})
}

// sweeping is the time it takes to empty a mill [s].
const sweeping = 180.0

// longest is how long anybody waits for a wall to cool [s].
const longest = 3600.0

// cools is how long the mill stands until its thermometer shows no more than this [K],
// looked at every half minute.
func (m *maker) cools(below float64) float64 {
	c := m.mill.Copy(nil)
	wait := handling
	for c.Stand(wait); c.Wall() > below+0.5 && wait < longest; wait += 30 {
		c.Stand(30)
	}
	return wait
}

// settingOf is the charge a plan asks for next; false when it asks for none.
func settingOf(g plan.Grinding) (outside.Setting, bool) {
	s := outside.Setting{Charge: g.Setting.Charge.Value, Time: g.Setting.Run.Value}
	if g.Setting.Level != nil {
		s.Level = int(math.Round(g.Setting.Level.Value))
	}
	return s, s.Charge > 0 && s.Time > 0
}

// heeded is how often a maker who is asked for a reading beside the work takes it.
const heeded = 0.5

// carryCharge waits and empties the mill as the plan says, grinds one charge of a
// campaign and writes it down.
func (m *maker) carryCharge(c *Campaign, step Step) error {
	set, trial, wait := step.Setting, step.Trial != "", step.Wait
	g := m.begin(set)
	if step.Emptied {
		g.Emptied = true
		g.Swept = known(m.weigh(m.mill.Sweep()))
		c.Swept++
		wait = math.Max(wait, sweeping)
	}
	m.stand(wait)
	c.Time += wait
	if c.Charges > 0 {
		g.RestBefore = known(math.Round(wait/10) * 10)
	}
	if trial || m.odds(m.habits.wallBefore) {
		g.WallBefore = known(m.warmth(m.mill.Wall()))
	}
	step.Wall = m.mill.Wall()
	gave := m.run(set)
	step.Gave = gave
	c.count(m.mill, gave)
	c.Charges++
	c.Ground += set.Charge
	c.Made += gave.Product
	c.Time += gave.Time
	g.Stalled = gave.Stalled
	if gave.Stalled {
		g.Run = math.Max(5, math.Round(gave.Time/5)*5)
	}
	g.Product = known(m.weigh(gave.Product))
	switch {
	case gave.Stalled: // nobody starts a jammed mill again: it is emptied
		out := m.weigh(m.mill.Sweep())
		if g.Swept != nil {
			out += *g.Swept
		}
		g.Left, g.Swept = known(0), known(out)
	case trial:
		g.Left = known(m.weigh(gave.Left * 0.97))
	}
	if trial || m.odds(m.habits.wallAfter) {
		g.WallAfter = known(m.warmth(m.mill.Shown(gave.Wall)))
	}
	if (trial || m.odds(m.habits.charge) || step.Probe && m.odds(heeded)) && felt(gave) {
		g.ChargeAfter = known(m.warmth(gave.Charge - inside))
		step.Read = *g.ChargeAfter
	}
	c.Steps = append(c.Steps, step)
	m.sure = true
	return m.enter(g, set)
}

// count holds a charge against the limits.
func (c *Campaign) count(mill *outside.Mill, g outside.Gave) {
	over := g.Hottest - (mill.Face.Softening - apart)
	if over > 0 {
		c.Hot++
	}
	if g.Wall > touch {
		c.Warm++
		over = math.Max(over, g.Wall-touch)
	}
	if mill.Shown(g.Wall) > touch {
		c.Shown++
	}
	c.Over = math.Max(c.Over, over)
	if g.Stalled {
		c.Stalls++
	}
	if overfull(mill, g) {
		c.Full++
	}
}

// overfull is whether jar or chamber held too much. A loose charge that fills
// half of the chamber leaves the rotor no room to throw it; judgement.
func overfull(mill *outside.Mill, g outside.Gave) bool {
	return g.Fill > 0.5 || g.Volume > mill.Face.Jar
}

// PlanCounts are the numbers of records after which plans are carried out.
var PlanCounts = []int{0, 3, 10}

// Carry lets the makers of the seeds carry plans out, and tells of each.
func Carry[S outside.Seed](seeds []S, tell func(S, Campaign)) ([]Campaign, Entries, error) {
	var all []Campaign
	entries := Entries{}
	for _, seed := range seeds {
		m, err := newMaker(seed)
		if err != nil {
			return nil, entries, err
		}
		chance := seed.Chance(2)
		for _, n := range PlanCounts {
			if err := m.records(n); err != nil {
				return nil, entries, fmt.Errorf("mill %d: %w", seed, err)
			}
			e, err := m.evening(rand.New(rand.NewPCG(chance.Uint64(), 3)))
			if err != nil {
				return nil, entries, fmt.Errorf("mill %d: %w", seed, err)
			}
			e.honest, e.refused, e.doubted, e.slips = 0, nil, nil, nil
			c, err := e.carryOut(math.Round((0.3+0.3*chance.Float64())*100) / 100)
			if err != nil {
				return nil, entries, fmt.Errorf("mill %d after %d records: %w", seed, n, err)
			}
			c.Records = n
			all = append(all, c)
			tell(seed, c)
			entries.add(e)
		}
	}
	return all, entries, nil
}
