package plan

import (
	"math"
	"sort"

	"hopperful/answer"
	"hopperful/estimate"
	"hopperful/process/exposure"
	"hopperful/process/heat"
)

// cell is a level and a charge mass with the runs of some draws on them. Its
// runs are a chain: the first charge meets an empty mill, the second what the
// first left, and the last stands for all that follow.
type cell struct {
	d      draw
	mass   float64 // of a charge [kg]
	limits cellLimits
	at     []float64          // times the runs are seen at [s]
	chain  [][]view           // a draw, then a charge
	fines  []float64          // share of the product below the fines limit, a draw
	off    []estimate.Factors // how far the models are off, a time
}

// offBy is a factor of the models' error at run time k in a draw, 1 where there
// is none.
func (c *cell) offBy(k, i int, of func(*estimate.Factors) []float64) float64 {
	if k >= len(c.off) {
		return 1
	}
	return of(&c.off[k])[i]
}

// modelled is the size the models have for grains that are so large [m], at run time k
// in a draw.
func (c *cell) modelled(k, i int, size float64) float64 {
	if k >= len(c.off) {
		return size
	}
	return c.off[k].Modelled(i, size)
}

// grain is how large grains are that the models have so large [m].
func (c *cell) grain(k, i int, modelled float64) float64 {
	if k >= len(c.off) {
		return modelled
	}
	return c.off[k].Grain(i, modelled)
}

// The kinds of factors.
func ofHeat(f *estimate.Factors) []float64    { return f.Heat }
func ofCharge(f *estimate.Factors) []float64  { return f.Charge }
func ofEnergy(f *estimate.Factors) []float64  { return f.Energy }
func ofProduct(f *estimate.Factors) []float64 { return f.Product }
func ofLeft(f *estimate.Factors) []float64    { return f.Left }

// campaign is one looked at: a cell, a run time, and what follows from them.
type campaign struct {
	*cell
	k       int     // index of the run time in at
	charges int     // how many
	pause   float64 // from a stop to the next start at the least [s]
	below   float64 // what the wall has to have cooled to by then, over the room [K]; +Inf: no matter
	rest    float64 // what the two come to in half of the draws [s]
	first   float64 // what a mill still warm waits before the first start, in half of the draws [s]
	piles   float64 // what comes to lie in the mill [charges]
	away    float64 // how far it leaves what was done [practice.away]
	turned  float64 // how far it leaves the charge before it, or what was done where the mill is cold [practice.turned]
	trial   bool    // a single charge, to be read
	shares  held    // how well it keeps the limits
}

// held is the share of draws that keep each limit of a whole campaign.
type held struct {
	need, charge, wall, fill, motor, jar, noise float64
	cool                                        float64 // charge below softening by the margin, whatever was done
}

func (t campaign) run() float64 { return t.at[t.k] }

// total is the time from the first start to the last stop [s].
func (t campaign) total() float64 { return t.upTo(float64(t.charges)) }

// upTo is the time from the first start to the stop of charge n [s].
func (t campaign) upTo(n float64) float64 { return n*t.run() + (n-1)*t.rest }

// ahead is how many charges what stays in the mill is reckoned for: a plan is made
// anew after each of the first.
const ahead = 3

// link is the view of charge j (from 0) of draw i.
func (c *cell) link(i, j int) *view {
	links := c.chain[i]
	return &links[min(j, len(links)-1)]
}

// produced is what has passed the screen after n charges of run time k, less
// dust [kg]. Where only the first charge was run, every later one is taken to
// pass the same share of what it met.
func (b *bench) produced(c *cell, i, k, n int) float64 {
	links := c.chain[i]
	passed := 0.0
	if len(links) == 1 {
		passed = links[0].passed[k] / c.mass * c.met(i, k, n)
	} else {
		for j := range min(n, len(links)) {
			passed += links[j].passed[k]
		}
		passed += float64(max(0, n-len(links))) * links[len(links)-1].passed[k]
	}
	return passed * (1 - b.rows[i][estimate.Dust])
}

// met is the sum of what n charges found in the mill at their start, each with
// what the ones before left [kg]: M/(1 − s) · (n − s (1 − sⁿ)/(1 − s)).
func (c *cell) met(i, k, n int) float64 {
	stay := c.chain[i][0].held[k] / c.mass
	if stay > 0.999999 {
		return c.mass * float64(n) * float64(n+1) / 2
	}
	return c.mass / (1 - stay) * (float64(n) - stay*(1-math.Pow(stay, float64(n)))/(1-stay))
}

// residue is what lies in the mill after n charges [kg]. Where only the first
// charge was run, every later one is taken to leave the same share of what it
// met: M (s + s² + … + sⁿ).
func (b *bench) residue(c *cell, i, k, n int) float64 {
	switch links := c.chain[i]; {
	case n == 0:
		return 0
	case n <= len(links):
		return links[n-1].held[k]
	case len(links) > 1: // the chain has settled: what comes in goes out
		return links[len(links)-1].held[k]
	}
	stay := c.chain[i][0].held[k] / c.mass
	if stay > 0.999999 {
		return float64(n) * c.mass
	}
	return c.mass * stay * (1 - math.Pow(stay, float64(n))) / (1 - stay)
}

// chargesFor is the least number of charges that meets the need in enough of
// the draws, or false when the scrap does not reach.
func (b *bench) chargesFor(c *cell, k int) (int, bool) {
	most := int(math.Min(math.Ceil(b.available/c.mass-1e-9), mostCharges))
	n := sort.Search(most, func(less int) bool { return b.meets(c, k, less+1) >= answer.SureShare }) + 1
	return n, n <= most
}

// mostCharges bounds a campaign: more is several days' work.
const mostCharges = 200

// meets is the share of draws in which n charges give what is wanted. The last
// charge is what is left of the scrap.
func (b *bench) meets(c *cell, k, n int) float64 {
	short := math.Max(0, float64(n)*c.mass-b.available)
	enough := 0
	for i := range c.chain {
		if b.produced(c, i, k, n)-short >= b.wanted[i] {
			enough++
		}
	}
	return float64(enough) / float64(len(c.chain))
}

// temperatures are the hottest charge and wall of a campaign over the room [K].
type temperatures struct{ charge, wall float64 }

// hottest runs the temperatures of one draw through a campaign.
func (b *bench) hottest(t campaign, i int) temperatures {
	var hot temperatures
	before, settled := 0.0, false
	start, beyond := 0.0, b.beyond(i)
	b.follow(t, i, func(_, _ int, charge, wall float64) {
		hot.charge = max(hot.charge, charge+beyond*max(0, charge-start))
		hot.wall = max(hot.wall, wall)
	}, func(j int, _, wall float64) bool {
		start = wall
		settled = j >= chainLength && wall-before < settledWithin
		before = wall
		return !settled
	})
	return hot
}

// beyond is how much further over the wall a charge goes in a draw than it is reckoned.
func (b *bench) beyond(i int) float64 {
	if i >= len(b.peaks) {
		return 0
	}
	return b.peaks[i]
}

// settledWithin is the change from one charge to the next below which a
// campaign's temperatures are taken to repeat [K].
const settledWithin = 1e-3

// follow tells see the temperatures over the room [K] of one draw at every time
// of a campaign's charges, and fill those at the start of each; it stops early when
// fill says so. Each start waits until the wall is as cool as it has to be: what it
// says is how long the first waits beyond its pause, and the others in the mean [s].
func (b *bench) follow(t campaign, i int, see func(charge, at int, tc, tw float64), fill func(charge int, tc, tw float64) bool) (first, mean float64) {
	row := b.rows[i]
	decay, slowness := coolsTo(row, t.pause), row[estimate.WallCapacity]/(row[estimate.WallLoss]*row[estimate.LidFactor])
	wall, waited := b.still.at(row, i, t.pause), 0.0
	for j := range t.charges {
		v, residue, stood := t.link(i, j), b.residue(t.cell, i, t.k, j), t.pause
		if j == 0 {
			residue, stood = b.still.residue(i), b.still.stood(t.pause)
		}
		if wall > t.below {
			wait := slowness * math.Log(wall/t.below)
			stood += wait
			if wall = t.below; j == 0 {
				first = wait
			} else {
				waited += wait
				mean = waited / float64(j)
			}
		}
		charge := wall * residue / (t.mass + residue)
		if !fill(j, charge, wall) {
			return first, mean
		}
		end, inner := 0.0, b.innerAfter(i, stood)
		for q := range t.k + 1 {
			tc, tw := v.heat[q].through(charge, wall, inner)
			see(j, q, tc, tw)
			end = tw
		}
		wall = end * decay
	}
	return first, mean
}

// coolsTo is the share of the wall's excess temperature left after a rest with
// the lid open.
func coolsTo(row []float64, rest float64) float64 {
	return math.Exp(-row[estimate.WallLoss] * row[estimate.LidFactor] * rest / row[estimate.WallCapacity])
}

// keep works out how well a campaign keeps the limits of a campaign.
func (b *bench) keep(t campaign) held {
	var h held
	n := len(t.chain)
	most := b.fillFor(t.mass)
	for i := range n {
		d, of := b.drawn(t, i), b.loads(t, i, most)
		count(&h.charge, d.charge)
		count(&h.wall, d.wall)
		count(&h.motor, d.motor)
		count(&h.cool, d.cool)
		count(&h.fill, of.fill)
		count(&h.jar, of.jar)
		count(&h.noise, of.noise)
	}
	all := float64(n)
	return held{need: b.meets(t.cell, t.k, t.charges), charge: h.charge / all, wall: h.wall / all,
		fill: h.fill / all, motor: h.motor / all, jar: h.jar / all, noise: h.noise / all, cool: h.cool / all}
}

// warming is which limits one draw keeps with the rests a campaign has.
type warming struct{ charge, cool, wall, motor bool }

// drawn looks at one draw of a campaign as it warms.
func (b *bench) drawn(t campaign, i int) warming {
	row := b.rows[i]
	hot := b.hottest(t, i)
	return warming{
		charge: b.allowed(i, t, b.room+hot.charge),
		cool:   b.room+hot.charge <= row[estimate.Softening]-b.bounds.margin,
		wall:   b.room+hot.wall <= b.bounds.touch,
		motor:  math.IsInf(b.bounds.motor, 1) || b.motorLoad(row, t, i) <= b.bounds.load*b.bounds.motor,
	}
}

// loading is which limits one draw keeps whatever the rests are; clear is whether the
// mill need not be emptied on the way.
type loading struct{ fill, jar, noise, clear bool }

// loads looks at one draw of a campaign whose charges may fill the chamber so far.
func (b *bench) loads(t campaign, i int, most float64) loading {
	row := b.rows[i]
	return loading{
		fill:  b.fits(row, t, b.still.residue(i), most),
		clear: b.fits(row, t, b.lies(t, i), most),
		jar:   t.mass/row[estimate.GrainBulk] <= b.bounds.jarShare*b.bounds.jar,
		noise: b.exposure(row, t)-protection <= b.bounds.noise,
	}
}

// fits is whether a charge finds room beside what lies in the mill, and no heavier a
// load on the rotor than it has been seen to grind.
func (b *bench) fits(row []float64, t campaign, lies, most float64) bool {
	return b.fillOf(row, t.mass, lies) <= most && b.practice.bears(t.mass+lies, t.d.Level)
}

// lies is the most that lies in the mill when one of the next charges of a campaign is
// filled in, where nobody empties it [kg].
func (b *bench) lies(t campaign, i int) float64 {
	return math.Max(b.residue(t.cell, i, t.k, min(t.charges, ahead)-1), b.still.residue(i))
}

// emptyAt is how much more may have gone into the mill than came out before it has to
// be emptied [kg]: beyond that the next charge would load the rotor more than it has
// been seen to grind. +Inf where nothing is known to stop it.
func (b *bench) emptyAt(t campaign) float64 {
	p := &b.practice
	return math.Min(p.most/p.press(1, t.d.Level), p.mass) - t.mass
}

// enough is the share of the draws in which a campaign has to keep its limits: of one
// that was done time and again it is the less the seldomer a charge's temperature was
// read.
func (b *bench) enough(t campaign) float64 {
	p := &b.practice
	if p.often(t.mass, t.run(), t.d.Level) < fewReadings {
		return answer.SureShare
	}
	return answer.SureShare - (answer.SureShare-doneShare)*float64(max(0, fewReadings-p.read.charge))/fewReadings
}

// spare is how many of its draws may break a limit of a campaign.
func (b *bench) spare(t campaign) int {
	return int(float64(len(t.chain)) * (1 - b.enough(t)) * (1 + 1e-9))
}

// steady is which limits a campaign breaks whatever its rests are.
func (b *bench) steady(t campaign, spare int) (broken limits) {
	most := b.fillFor(t.mass)
	var n struct{ fill, jar, noise, clear int }
	for i := range t.chain {
		d := b.loads(t, i, most)
		for _, one := range [...]struct {
			ok bool
			n  *int
		}{{d.fill, &n.fill}, {d.jar, &n.jar}, {d.noise, &n.noise}, {d.clear, &n.clear}} {
			if !one.ok {
				*one.n++
			}
		}
	}
	broken.add(limitOfFill, n.fill > spare)
	broken.add(limitOfJar, n.jar > spare)
	broken.add(limitOfNoise, n.noise > spare)
	broken.add(limitOfClear, n.clear > max(spare, len(t.chain)-spare)) // that it may have to be emptied is no harm; that it surely has, is
	broken.add(limitOfNeed, b.meets(t.cell, t.k, t.charges) < answer.SureShare)
	return broken
}

// warms is which limits a campaign breaks with the rests it has; with any of them said
// already it stops looking.
func (b *bench) warms(t campaign, spare int, any bool) (broken limits) {
	var n [3]int
	for i := range t.chain {
		d := b.drawn(t, i)
		for j, ok := range [...]bool{d.charge, d.wall, d.motor} {
			if ok {
				continue
			}
			if n[j]++; n[j] > spare {
				broken.add([...]limits{limitOfCharge, limitOfWall, limitOfMotor}[j], true)
				if any {
					return broken
				}
			}
		}
	}
	return broken
}

// limits is a set of them.
type limits int

// The limits of a campaign, and those of level and mass alone.
const (
	limitOfCharge limits = 1 << iota
	limitOfWall
	limitOfMotor
	limitOfFill
	limitOfClear
	limitOfJar
	limitOfNoise
	limitOfNeed
	limitOfController
	limitOfStall
	everyLimit = 1<<iota - 1
)

func (l *limits) add(one limits, broken bool) {
	if broken {
		*l |= one
	}
}

func count(n *float64, yes bool) {
	if yes {
		*n++
	}
}

// motorLoad is the steady draw that would warm the motor as the cycle does: the
// root mean square over run and rest [W].
func (b *bench) motorLoad(row []float64, t campaign, i int) float64 {
	_, load, err := heat.CycleLoad(heat.Load{Time: t.run(), Power: estimate.Electric(row, t.d.Load) * t.offBy(t.k, i, ofEnergy)}, heat.Load{Time: t.pause})
	if err != nil {
		return math.Inf(1) // no time in the cycle: no load could be right
	}
	return load
}

// exposure is the day's noise exposure if this campaign is all the grinding
// done [dB(A)], without hearing protection. A campaign longer than a day counts
// as one that fills it.
func (b *bench) exposure(row []float64, t campaign) float64 {
	time := math.Min(float64(t.charges)*t.run(), 3*exposure.Day)
	level, err := exposure.DayLevel(exposure.Task{Level: row[estimate.Noise], Time: time})
	if err != nil {
		return row[estimate.Noise] // no time at the mill, or a level nobody could hear: as loud as the mill
	}
	return level
}
