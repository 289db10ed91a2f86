package study

import (
	"fmt"
	"math"

	"hopperful/internal/study/outside"
)

// The best that could have been done, found with the truth known, and where the time
// of a campaign went that took longer.

// Equal is a campaign of equal charges with equal rests.
type Equal struct {
	outside.Setting
	Rest, Time float64 // between two charges; from the first start to the last stop [s]
	Charges    int
}

// fence narrows the campaigns that are looked at.
type fence struct {
	cooler float64                    // K that charges stay below their limit, besides
	within func(outside.Setting) bool // nil: anywhere
}

// quickest is the quickest campaign of equal charges that keeps every limit in the
// true mill, which nobody in the shop could know.
func quickest(mill *outside.Mill, need float64, f fence) (best Equal, ok bool) {
	best.Time = math.Inf(1)
	levels := []int{0}
	for l := 1; l <= mill.Face.Levels; l++ {
		levels = append(levels, l)
	}
	if mill.Face.Levels > 0 {
		levels = levels[1:]
	}
	for _, level := range levels {
		for share := 2.4; share > 0.3; share *= 0.84 {
			set := outside.Setting{Charge: mill.Usual.Charge * share, Level: level}
			for set.Time = 20; set.Time <= 320; set.Time *= 1.25 {
				if f.within == nil || f.within(set) {
					best = rested(mill, set, need, f.cooler, best)
				}
			}
		}
	}
	return best, !math.IsInf(best.Time, 1)
}

// rested is the best so far, or the campaign of a setting with the shortest rest that
// keeps every limit.
func rested(mill *outside.Mill, set outside.Setting, need, cooler float64, best Equal) Equal {
	least := math.Ceil(need / set.Charge)
	for rest := handling; rest <= 1500; rest *= 1.5 {
		if least*set.Time+(least-1)*rest >= best.Time {
			break
		}
		one, fits, hopeless := through(mill, set, rest, need, cooler)
		if fits && one.Time < best.Time {
			best = one
		}
		if fits || hopeless {
			break
		}
	}
	return best
}

// through runs a campaign to its end; hopeless when no rest would help.
func through(mill *outside.Mill, set outside.Setting, rest, need, cooler float64) (one Equal, fits, hopeless bool) {
	c := mill.Quiet()
	one = Equal{Setting: set, Rest: rest}
	made, most := 0.0, c.Face.Softening-apart-cooler
	for i := range mostCharges {
		if i > 0 {
			c.Stand(rest)
			one.Time += rest
		}
		g := c.Run(set)
		one.Time += set.Time
		one.Charges++
		hot := g.Hottest > most || g.Wall > touch
		if g.Stalled || overfull(c, g) || i == 0 && hot {
			return one, false, true
		}
		if hot {
			return one, false, false
		}
		if made += g.Product; made >= need {
			return one, true, false
		}
	}
	return one, false, true
}

// rivals is what campaigns are held against: the true mill, the granulate wanted [kg],
// and the settings on record before.
type rivals struct {
	mill *outside.Mill
	want float64
	ran  []outside.Setting
}

// How far plans go beyond the records: the plan's own steps.
const (
	levelsBeyond = 0.08
	chargeBeyond = 1.3
	timeBeyond   = 1.5
)

// near reports whether a setting lies where a first plan may look.
func (r *rivals) near(set outside.Setting) bool {
	if len(r.ran) == 0 {
		return true
	}
	span := func(of func(outside.Setting) float64) (low, high float64) {
		low, high = math.Inf(1), 0
		for _, one := range r.ran {
			low, high = min(low, of(one)), max(high, of(one))
		}
		return low, high
	}
	in := func(v, low, high float64) bool { return low*(1-1e-9) <= v && v <= high*(1+1e-9) }
	step := math.Max(1, math.Round(levelsBeyond*float64(r.mill.Face.Levels)))
	low, high := span(func(s outside.Setting) float64 { return float64(s.Level) })
	if !in(float64(set.Level), low-step, high+step) {
		return false
	}
	if low, high = span(func(s outside.Setting) float64 { return s.Charge }); !in(set.Charge, low/chargeBeyond, high*chargeBeyond) {
		return false
	}
	low, high = span(func(s outside.Setting) float64 { return s.Time })
	return in(set.Time, low/timeBeyond, high*timeBeyond)
}

// Spent is where the time of a campaign went [s].
type Spent struct{ Grinding, Handling, Cooling, Sweeping float64 }

// Spent adds it up.
func (c Campaign) Spent() (t Spent) {
	for i, s := range c.Steps {
		t.Grinding += s.Gave.Time
		wait := s.Wait
		switch {
		case s.Emptied:
			t.Sweeping += sweeping
			wait -= sweeping
		case i > 0:
			t.Handling += handling
			wait -= handling
		}
		t.Cooling += math.Max(0, wait)
	}
	return t
}

// cooler are the margins, besides that of every plan, at which the best is asked for [K]:
// what not knowing how hot a charge becomes costs.
var cooler = []float64{0, 3, 6}

// Why tells where the time of a campaign went, and what the best would have taken where a
// plan may look, at several margins: from the truth, so never shown to a plan.
func (c Campaign) Why() string {
	t := c.Spent()
	text := fmt.Sprintf("   %.2f of the best: %.0f s, of them grinding %.0f, handling %.0f, cooling %.0f, emptying %.0f; the first plan said %.0f s\n",
		c.Time/c.Best, c.Time, t.Grinding, t.Handling, t.Cooling, t.Sweeping, c.Promised)
	for _, k := range cooler {
		best, ok := quickest(c.rivals.mill, c.rivals.want, fence{k, c.rivals.near})
		if !ok {
			text += fmt.Sprintf("   near the records, %.0f K cooler: none\n", k)
			continue
		}
		text += fmt.Sprintf("   near the records, %.0f K cooler: %.2f of the best, %d × %.0f g L%d %.0f s, rest %.0f s\n",
			k, best.Time/c.Best, best.Charges, 1000*best.Charge, best.Level, best.Setting.Time, best.Rest)
	}
	return text
}

// String is a campaign as one line.
func (c Campaign) String() string {
	return fmt.Sprintf("after %d records %.0f g wanted, best %.0f s (possible %v): %d charges, %d of them trials, emptied %d times; %.0f g ground, %.0f g made in %.0f s; ended %d %s; over a limit: charge %d, wall %d, shown %d, stalls %d, full %d, by %.1f K; below the records %d",
		c.Records, 1000*c.Need, c.Best, c.Possible, c.Charges, c.Trials, c.Swept, 1000*c.Ground, 1000*c.Made, c.Time, c.Ended, c.Said, c.Hot, c.Warm, c.Shown, c.Stalls, c.Full, c.Over, c.Below)
}
