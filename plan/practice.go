package plan

import (
	"cmp"
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/shop"
)

// What was done in a mill is what a plan may lean on: a few rough records say
// little of a setting that nobody has run.

// deed is a run on record, as far as a plan goes by it.
type deed struct {
	record       int64
	charge, time float64 // [kg], [s]
	met          float64 // charge and what lay in the mill before it; in the sitting that goes on the charge alone, but for a stall [kg]
	level        int     // 0: none, or not noted
	plastic      string
	out          float64 // that came out [kg]; -1: nobody weighed it
	coarse       float64 // largest section of its pieces [m²], [section]
	read         bool    // the charge's temperature was, at its end
	here         bool    // on the blade and the screen that are in the mill, since it was looked at
}

// practice is what a mill has been run at.
type practice struct {
	deeds  []deed // without a stall, oldest first
	stalls []deed // of any plastic and scrap
	jammed jammed // what of them binds the scrap at hand
	levels int    // of the controller; 0: none
	read   readings
	yields []float64 // product of the runs on which it was weighed [kg]
	most   float64   // the hardest load a plan may ask for, see mostPress: each draw of each campaign asks for it
	mass   float64   // the most that may lie before the rotor at any level, see belowStalls [kg]
	common float64   // what such mills are filled with, see mostPress; 0: nobody knows the chamber [kg]
	swept  bool      // the mill was emptied a few charges ago, in the sitting that goes on
	before *deed     // the charge before, of the sitting that goes on, where it came out; nil: none
}

// readings counts what was read at the runs.
type readings struct{ level, product, left, wall, charge, energy int }

// take counts a run's.
func (n *readings) take(r *estimate.Run) {
	for _, one := range []struct {
		there bool
		count *int
	}{{r.Load.Level > 0, &n.level}, {r.Product != nil, &n.product}, {r.Left != nil, &n.left}, {r.WallAfter != nil, &n.wall},
		{r.ChargeAfter != nil, &n.charge}, {r.Energy != nil, &n.energy}} {
		if one.there {
			*one.count++
		}
	}
}

// How far a plan goes beyond what was run. Judgement; the region grows by
// itself, a step a trial.
const (
	levelStep   = 0.08 // of the controller's scale, one level at the least
	massStep    = 1.3
	timeStep    = 1.5
	pressStep   = 1.2 // load on the rotor over the most it ever ground
	farCharge   = 1.6 // ratios at which a setting is as far as forecasts reach
	farLevel    = 1.4
	farTime     = 2.5
	mostCounted = 0.3 // of a charge, that what lay below it counts for at the most: nobody weighed it
	slipCharge  = 2.5 // beyond all other charges: a slip of the pen until it is asked about
	slipTime    = 3.0
)

// practiceOf gathers what a mill has been run at. A charge or a time far from
// all the others is left out, and so is a charge that overfills the chamber: a
// slip must not open the door. Nor must a sitting in which charges leave more and
// more behind: it would raise the load it may go to with each of them, until the
// rotor stalls. What went well in it counts by the charge, once it is over by all
// that the rotor met. The last going runs are of it.
func practiceOf(log *logbook, m shop.Mill, going int, scrap feed, fill func(kg float64) float64) practice {
	if m.Chamber == nil { // nobody knows how much goes in
		fill = func(float64) float64 { return 0 }
	}
	p := practice{levels: levelsOf(m), swept: lately(log.runs[len(log.runs)-going:])}
	if m.Chamber != nil {
		p.common = estimate.UsualCharge * *m.Chamber
	}
	var open []deed // stalls since a charge of such scrap went through
	lying := estimate.NewLying(chamberOf(m))
	for i, r := range log.runs {
		lies := lying.Meet(&r)
		if r.LongAfter { // it may have been emptied
			lies = 0
		}
		met := r.Charge + math.Min(lies, mostCounted*r.Charge)
		if !(r.Charge > 0 && r.Time > 0) || fill(r.Charge) > 1 {
			continue
		}
		d := deed{record: r.Record, charge: r.Charge, time: r.Time, level: r.Load.Level, met: met, plastic: r.Polymer, out: -1, coarse: section(r.Largest, r.Thickness), read: r.ChargeAfter != nil,
			here: r.Chapter == log.chapter && r.Screen == log.sheet(m.Screen.Hole) && r.Record > int64(log.looked)}
		if r.Product != nil {
			d.out = *r.Product
		}
		if r.Stalled {
			p.stalls = append(p.stalls, d)
			if scrap.toldBy(d) && r.Record < int64(log.looked) { // somebody has looked: begin again, with a small charge
				open = nil
			}
			if scrap.toldBy(d) {
				open = append(open, d)
			}
			continue
		}
		open = slices.DeleteFunc(open, d.answers)
		if i >= len(log.runs)-going {
			d.met = d.charge
		}
		if i == len(log.runs)-1 && going > 0 {
			p.before = &d
		}
		p.deeds = append(p.deeds, d)
		p.read.take(&r)
		if r.Product != nil {
			p.yields = append(p.yields, *r.Product)
		}
	}
	p.deeds = withoutSlips(withoutSlips(p.deeds, func(d deed) float64 { return d.charge }, slipCharge),
		func(d deed) float64 { return d.time }, slipTime)
	p.jammed = jammed{scrap: scrap, looked: int64(log.looked), open: open, went: slices.ContainsFunc(p.deeds, func(d deed) bool { return d.plastic == scrap.plastic })}
	p.jammed.open = slices.DeleteFunc(p.jammed.open, func(d deed) bool { return p.known(d) && p.below(d) == 1 })
	p.most, p.mass = p.mostPress()
	return p
}

// fewSince is how many charges a mill that was emptied grinds at the least before it is emptied
// again: what lies in it once more after fewer will always lie there. Judgement.
const fewSince = 4

// lately reports whether the mill was emptied so few charges of a sitting ago.
func lately(going []estimate.Run) bool {
	for k := max(1, len(going)-fewSince+1); k < len(going); k++ {
		if !going[k].Follows {
			return true
		}
	}
	return false
}

// withoutSlips leaves out the deeds whose value is beyond all the others' by a
// factor, where there are at least two others.
func withoutSlips(deeds []deed, of func(deed) float64, factor float64) []deed {
	if len(deeds) < 3 {
		return deeds
	}
	sorted := make([]float64, len(deeds))
	for i, d := range deeds {
		sorted[i] = of(d)
	}
	slices.Sort(sorted)
	n := len(sorted)
	low, high := sorted[1]/factor, sorted[n-2]*factor
	return slices.DeleteFunc(slices.Clone(deeds), func(d deed) bool { return of(d) < low || of(d) > high })
}

// none reports whether nobody has run the mill yet.
func (p *practice) none() bool { return len(p.deeds) == 0 }

// share is a level's share of the controller's scale, 1 without one.
func (p *practice) share(level int) float64 {
	if p.levels == 0 || level == 0 {
		return 1
	}
	return float64(level) / float64(p.levels)
}

// press is how hard a charge loads the rotor at a level: its mass over the
// power 1.5 of the level's share, which a rotor's grip follows about. Judgement.
func (p *practice) press(charge float64, level int) float64 {
	share := p.share(level)
	return charge / (share * math.Sqrt(share))
}

// oftenPress is the hardest load that the rotor took time and again without a stall,
// by the charge alone; of one plastic; 0 where there is none.
func (p *practice) oftenPress(plastic string) float64 {
	var all []float64
	for _, d := range p.deeds {
		if (d.level > 0 || p.levels == 0) && d.plastic == plastic {
			all = append(all, p.press(d.charge, d.level))
		}
	}
	if len(all) < oftenDone {
		return 0
	}
	slices.Sort(all)
	return all[len(all)-oftenDone]
}

// mostPress is the hardest load a plan may ask for, and the most that may lie before the
// rotor at any level: a step beyond what it took, and below what stalled it. Who began with
// little, because it warms, knows that it takes what all such mills do: where nothing
// stalled, what lies in the mill is no reason to fill ever less. Some runs on, practice speaks.
func (p *practice) mostPress() (press, mass float64) {
	press, mass = math.Inf(1), math.Inf(1)
	for i, d := range p.deeds {
		if i == 0 {
			press, mass = 0, 0
		}
		if i == 0 && len(p.deeds) < fewDeeds {
			press, mass = pressStep*p.common/(estimate.UsualShare*math.Sqrt(estimate.UsualShare)), massStep*p.common
			if p.levels == 0 {
				press = pressStep * p.common
			}
		}
		if p.known(d) {
			press = math.Max(press, pressStep*p.press(d.met, d.level))
		}
		mass = math.Max(mass, massStep*d.met)
	}
	if !p.noted() && p.levels > 0 {
		press = math.Inf(1)
	}
	return p.belowStalls(press, mass)
}

// step is how many levels a plan may leave those that were run.
func (p *practice) step() int {
	return max(1, int(math.Round(levelStep*float64(p.levels))))
}

// allowedLevels are those of the mill's levels within a step of one that was
// run, or of the usual one where none was noted, nearest to practice first.
func (p *practice) allowedLevels(all []draw) []draw {
	if p.levels == 0 {
		return all
	}
	near := func(level int) int {
		best := p.levels
		for _, d := range p.deeds {
			if d.level > 0 {
				best = min(best, abs(level-d.level))
			}
		}
		return best
	}
	if !p.noted() {
		usual := max(1, int(math.Round(estimate.UsualShare*float64(p.levels))))
		near = func(level int) int { return abs(level - usual) }
	}
	var some []draw
	for _, d := range all {
		if near(d.Level) <= p.step() {
			some = append(some, d)
		}
	}
	slices.SortStableFunc(some, func(a, b draw) int { return cmp.Compare(near(a.Level), near(b.Level)) })
	return some
}

// noted reports whether the level of any run is known.
func (p *practice) noted() bool {
	return slices.ContainsFunc(p.deeds, func(d deed) bool { return d.level > 0 })
}

func abs(n int) int { return max(n, -n) }

// spans are the masses and times that a plan may ask for: those that were run,
// and a step beyond either end; none above a single charge.
func (p *practice) spans() (charge, time [2]float64) {
	charge, time = [2]float64{math.Inf(1), 0}, [2]float64{math.Inf(1), 0}
	up := [2]float64{massStep, timeStep}
	if len(p.deeds) == 1 { // of a single charge nobody knows how it goes on, but that more has to come out
		if up = [2]float64{1, 1}; p.deeds[0].poor() {
			up[1] = timeStep
		}
	}
	for _, d := range p.deeds {
		charge = [2]float64{math.Min(charge[0], d.charge/massStep), math.Max(charge[1], d.charge*up[0])}
		time = [2]float64{math.Min(time[0], math.Max(d.time/timeStep, math.Min(d.time, shortestRun))), math.Max(time[1], d.time*up[1])}
	}
	return charge, time
}

// shortestRun is the shortest that a plan asks for, where nobody ran the mill for less [s]:
// a hand on a switch and the rotor's run-up come to some seconds. Common practice, no source.
const shortestRun = 30.0

// poor reports whether little came out of a charge.
func (d deed) poor() bool { return d.out >= 0 && d.out < estimate.LittleOut*d.charge }

// nothingOut is the share of a charge below which next to nothing came out, and clearlyOver is
// how much longer it is ground then: the same once more teaches nothing. Judgement.
const (
	nothingOut  = 0.1
	clearlyOver = 1.25
)

// again is how long for its mass a charge is ground at the least after one of which little
// came out, as a share of that one's time.
func (d deed) again() float64 {
	if d.out < nothingOut*d.charge {
		return clearlyOver
	}
	return 0.99 // as read off a stopwatch
}

// soon leaves out the times at which a charge is ground shorter for its mass than one of
// which little came out, where no other like it came out so soon: it is filled less, or
// ground longer.
func (p *practice) soon(charge float64, times []float64) []float64 {
	return slices.DeleteFunc(slices.Clone(times), func(time float64) bool {
		poor := false
		for _, d := range p.deeds {
			switch {
			case d.out >= estimate.LittleOut*d.charge && charge <= 1.1*d.charge && time >= d.time/1.1:
				return false
			case d.poor() && time < d.again()*d.time*math.Min(1, charge/(0.9*d.charge)):
				poor = true
			}
		}
		return poor
	})
}

// between are about n values from one end to the other, evenly in their
// logarithm, with those that were run in their place.
func between(span [2]float64, run []float64, n int) []float64 {
	const alike = 1.06 // values this close are one
	all := slices.Clone(run)
	slices.Sort(all)
	kept := all[:0]
	for _, v := range all {
		if len(kept) == 0 || v > alike*kept[len(kept)-1] {
			kept = append(kept, v)
		}
	}
	for len(kept) > n { // many runs: thin them out evenly
		thin := make([]float64, 0, n)
		for i := range n {
			thin = append(thin, kept[i*(len(kept)-1)/(n-1)])
		}
		kept = thin
	}
	for i := range n {
		v := span[0] * math.Pow(span[1]/span[0], float64(i)/float64(n-1))
		if !slices.ContainsFunc(kept, func(k float64) bool { return v < alike*k && k < alike*v }) {
			kept = append(kept, v)
		}
	}
	slices.Sort(kept)
	return kept
}

// away is how far a setting lies from the nearest that was run without a stall:
// 1 at the edge of what forecasts reach. Where the level of a run was not noted,
// the usual one is taken.
func (p *practice) away(charge, time float64, level int) float64 {
	nearest := math.Inf(1)
	for i := range p.deeds {
		nearest = min(nearest, p.apart(&p.deeds[i], charge, time, level))
	}
	return nearest
}

// apart is how far a setting lies from one that was run, likewise.
func (p *practice) apart(d *deed, charge, time float64, level int) float64 {
	at := p.share(d.level)
	if p.levels > 0 && d.level == 0 {
		at = estimate.UsualShare
	}
	return max(ratio(charge, d.charge, farCharge), ratio(p.share(level), at, farLevel), ratio(time, d.time, farTime))
}

// readSo is how many times a setting was run with a plastic whose charge's temperature was
// read, and how near it lies to the nearest of them: 1 there, 0 where forecasts reach no further.
func (p *practice) readSo(plastic string, charge, time float64, level int) (times int, near float64) {
	for i := range p.deeds {
		d := &p.deeds[i]
		if !d.read || d.plastic != plastic {
			continue
		}
		apart := p.apart(d, charge, time, level)
		if near = max(near, 1-apart); apart < asDone {
			times++
		}
	}
	return times, near
}

// turned is how far a setting lies from that of the charge before: nobody turns the dial
// between two charges without a reason. In a cold mill it is how far it is away from
// what was done.
func (p *practice) turned(charge, time float64, level int) float64 {
	if p.before == nil {
		return p.away(charge, time, level)
	}
	return p.apart(p.before, charge, time, level)
}

// often is how many times a setting, or one that warms a like charge more, was run.
func (p *practice) often(charge, time float64, level int) int {
	const alike = 0.5 // of how far forecasts reach along the charge
	n := 0
	for _, d := range p.deeds {
		if d.level >= level && d.time > time/1.1 && ratio(charge, d.charge, farCharge) < alike {
			n++
		}
	}
	return n
}

func ratio(a, b, far float64) float64 { return math.Abs(math.Log(a/b)) / math.Log(far) }

// nearest is the deed a setting lies nearest to.
func (p *practice) nearest(charge, time float64, level int) (deed, bool) {
	best, at := math.Inf(1), -1
	for i := range p.deeds {
		if away := p.apart(&p.deeds[i], charge, time, level); away < best {
			best, at = away, i
		}
	}
	if at < 0 {
		return deed{}, false
	}
	return p.deeds[at], true
}

// masses and times of the deeds.
func (p *practice) run(of func(deed) float64) []float64 {
	all := make([]float64, len(p.deeds))
	for i, d := range p.deeds {
		all[i] = of(d)
	}
	return all
}

// Judgement, of what a campaign of practice's kind comes to.
const (
	usualYield = 0.8   // of a charge
	usualRest  = 600.0 // s
)

// usualCharge is the middle of the charges that were run [kg].
func (p *practice) usualCharge() float64 {
	return answer.Quantile(p.run(func(d deed) float64 { return d.charge }), 0.5)
}

// byPencil is what the need comes to without a model: as many charges as the
// runs' usual product asks for, or that of the least charge that is worth the work, with
// their usual time and a rest of some minutes.
func (p *practice) byPencil(wanted, least float64) (charges, total float64) {
	one := usualYield * p.usualCharge()
	if len(p.yields) > 0 {
		one = answer.Quantile(p.yields, 0.5)
	}
	charges = math.Ceil(wanted / math.Max(one, usualYield*least))
	return charges, charges * (answer.Quantile(p.run(func(d deed) float64 { return d.time }), 0.5) + usualRest)
}
