package plan

import (
	"math"

	"hopperful/estimate"
)

// cell is a level and a charge mass with the runs of some draws on them. Its
// runs are a chain: the first charge meets an empty mill, the second what the
// first left, and the last stands for all that follow.
type cell struct {
	d      draw
	mass   float64 // of a charge [kg]
	limits cellLimits
	at     []float64 // times the runs are seen at [s]
	chain  [][]view  // a draw, then a charge
	fines  []float64 // share of the product below the fines limit, a draw
}

// trial is a campaign looked at: a cell, a run time, and what follows from them.
type trial struct {
	*cell
	k       int     // index of the run time in at
	charges int     // how many
	rest    float64 // from a stop to the next start [s]
	shares  held    // how well it keeps the limits
}

// held is the share of draws that keep each limit of a whole campaign.
type held struct {
	need, charge, wall, motor, jar, noise float64
}

func (t trial) run() float64 { return t.at[t.k] }

// total is the time from the first start to the last stop [s].
func (t trial) total() float64 {
	return float64(t.charges)*t.run() + float64(t.charges-1)*t.rest
}

// link is the view of charge j (from 0) of draw i.
func (c *cell) link(i, j int) *view {
	links := c.chain[i]
	return &links[min(j, len(links)-1)]
}

// produced is what has passed the screen after n charges of run time k, less
// dust [kg]. Where only the first charge was run, later ones are taken to give
// the same share of what lies in the mill.
func (b *bench) produced(c *cell, i, k, n int) float64 {
	sum := 0.0
	if len(c.chain[i]) > 1 {
		for j := range min(n, len(c.chain[i])) {
			sum += c.chain[i][j].passed[k]
		}
		if more := n - len(c.chain[i]); more > 0 {
			sum += float64(more) * c.link(i, n).passed[k]
		}
	} else {
		share, residue := c.chain[i][0].passed[k]/c.mass, 0.0
		for range n {
			out := share * (c.mass + residue)
			residue += c.mass - out
			sum += out
		}
	}
	return sum * (1 - b.rows[i][estimate.Dust])
}

// usable is what of it is left when the fines are taken off [kg].
func (b *bench) usable(c *cell, i, k, n int) float64 {
	return b.produced(c, i, k, n) * (1 - c.fines[i])
}

// chargesFor is the least number of charges that meets the need in enough of
// the draws, or false when the scrap does not reach.
func (b *bench) chargesFor(c *cell, k int) (int, bool) {
	most := int(math.Min(math.Ceil(b.available/c.mass-1e-9), mostCharges))
	for n := 1; n <= most; n++ {
		if b.meets(c, k, n) >= sureShare {
			return n, true
		}
	}
	return 0, false
}

// mostCharges bounds a campaign: more is several days' work.
const mostCharges = 200

// meets is the share of draws in which n charges give what is wanted. The last
// charge is what is left of the scrap.
func (b *bench) meets(c *cell, k, n int) float64 {
	short := math.Max(0, float64(n)*c.mass-b.available)
	enough := 0
	for i := range c.chain {
		if b.usable(c, i, k, n)-short >= b.wanted[i] {
			enough++
		}
	}
	return float64(enough) / float64(len(c.chain))
}

// temperatures are the hottest charge and wall of a campaign over the room [K].
type temperatures struct{ charge, wall float64 }

// hottest runs the temperatures of one draw through n charges.
func (b *bench) hottest(c *cell, i, k, n int, rest float64) temperatures {
	var hot temperatures
	b.follow(c, i, k, n, rest, func(_, _ int, charge, wall float64) {
		hot.charge = math.Max(hot.charge, charge)
		hot.wall = math.Max(hot.wall, wall)
	}, nil)
	return hot
}

// follow tells see the temperatures over the room [K] of one draw at every time
// of n charges, and fill, if it is not nil, those at the start of each.
func (b *bench) follow(c *cell, i, k, n int, rest float64, see func(charge, at int, tc, tw float64), fill func(charge int, tc, tw float64)) {
	row := b.rows[i]
	decay := coolsTo(row, rest)
	wall, residue := 0.0, 0.0
	for j := range n {
		v := c.link(i, j)
		charge := wall * residue / (c.mass + residue)
		if fill != nil {
			fill(j, charge, wall)
		}
		var end float64
		for q := range k + 1 {
			tc, tw := v.heat[q].from(charge, wall)
			see(j, q, tc, tw)
			end = tw
		}
		residue = v.held[k]
		wall = end * decay
	}
}

// coolsTo is the share of the wall's excess temperature left after a rest with
// the lid open.
func coolsTo(row []float64, rest float64) float64 {
	return math.Exp(-row[estimate.WallLoss] * row[estimate.LidFactor] * rest / row[estimate.WallCapacity])
}

// keep works out how well a trial keeps the limits of a campaign.
func (b *bench) keep(t trial) held {
	var h held
	n := len(t.chain)
	for i := range n {
		row := b.rows[i]
		hot := b.hottest(t.cell, i, t.k, t.charges, t.rest)
		count(&h.charge, b.room+hot.charge <= row[estimate.Softening]-b.bounds.margin)
		count(&h.wall, b.room+hot.wall <= b.bounds.touch)
		count(&h.motor, b.motorLoad(row, t) <= b.bounds.load*b.bounds.motor)
		count(&h.jar, t.mass/row[estimate.GrainBulk] <= b.bounds.jarShare*b.bounds.jar)
		count(&h.noise, b.exposure(row, t)-protection <= b.bounds.noise)
	}
	all := float64(n)
	return held{need: b.meets(t.cell, t.k, t.charges), charge: h.charge / all, wall: h.wall / all,
		motor: h.motor / all, jar: h.jar / all, noise: h.noise / all}
}

func count(n *float64, yes bool) {
	if yes {
		*n++
	}
}

// motorLoad is the steady draw that would warm the motor as the cycle does: the
// root mean square over run and rest [W].
func (b *bench) motorLoad(row []float64, t trial) float64 {
	return electric(row, t.d) * math.Sqrt(t.run()/(t.run()+t.rest))
}

// exposure is the day's noise exposure if this campaign is all the grinding
// done [dB(A)], without hearing protection.
func (b *bench) exposure(row []float64, t trial) float64 {
	return row[estimate.Noise] + 10*math.Log10(float64(t.charges)*t.run()/workday)
}

// workday is the eight hours daily exposure is stated for [s].
const workday = 8 * 3600.0

// all reports whether every limit is kept.
func (h held) all() bool {
	return h.need >= sureShare && h.charge >= sureShare && h.wall >= sureShare &&
		h.motor >= sureShare && h.jar >= sureShare && h.noise >= sureShare
}
