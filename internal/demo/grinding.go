package demo

import (
	"math"
	"time"

	"hopperful/shop"
)

// session is a row of charges of one lot, ground one after the other.
type session struct {
	day, hour int // days before the end; clock hour of the start
	who       string
	mill      string
	from      shop.LotID
	into      shop.LotID
	charges   int
	grams     float64 // a charge, about
	run       float64 // s, about
	level     int     // 0: no controller
	mishap    mishap  // of one of its charges
}

// mishap is what goes wrong with the charge of this number, 0 for none.
type mishap struct {
	stalls  int // the blade stands still before the run is over
	slips   int // the product is typed in wrong, and mended a week later
	misread int // the product is typed in wrong, and nobody has noticed yet
}

// sessions are the shop's grinding days.
var sessions = []session{
	{84, 16, ada, rattle, "S1", "R1", 5, 82, 100, 7, mishap{}},
	{77, 17, ada, rattle, "S2", "R2", 4, 78, 100, 7, mishap{}},
	{70, 10, jonas, rattle, "S4", "R3", 5, 70, 135, 8, mishap{stalls: 2}},
	{63, 16, mira, rattle, "S10", "R4", 2, 80, 105, 7, mishap{}},
	{63, 17, mira, rattle, "S11", "R5", 2, 80, 105, 7, mishap{}},
	{49, 18, ada, rattle, "S12", "R1", 2, 76, 110, 7, mishap{}},
	{42, 16, ada, rattle, "S13", "R1", 4, 84, 105, 7, mishap{slips: 2}},
	{28, 11, jonas, rattle, "S6", "R6", 3, 72, 150, 8, mishap{}},
	{21, 10, jonas, rattle, "S4", "R3", 4, 70, 125, 8, mishap{misread: 2}},
	{13, 15, mira, grumble, "S5", "R7", 2, 110, 180, 0, mishap{}},
	{12, 17, ada, rattle, "S1", "R1", 4, 82, 95, 7, mishap{}},
	{4, 17, ada, rattle, "S1", "R1", 3, 82, 95, 7, mishap{}},
}

// The slips of the keys [kg]: a 7 read as a 3, which the books ask about and Jonas mends,
// and as a 4, which waits for an answer.
const (
	slip    = 0.040
	misread = 0.030
)

// How the shop reads, as standard deviations; all are cut off at two and a half.
const (
	handling    = 0.0005 // kg, on top of the scale's digit
	thermometer = 1.5    // K
	watch       = 2.0    // s
	meter       = 0.02   // of an energy
	untilEmpty  = 2.2    // run of a session's last charge over the others'
)

// scatter is a reading's error.
func (b *book) scatter(spread float64) float64 {
	return spread * max(-2.5, min(2.5, b.chance.NormFloat64()))
}

// grind writes a session's charges.
func (b *book) grind(s session) {
	mill := b.truths[s.mill]
	room := b.about(19, 0.06)
	mill.coldStart(celsius(room))
	start := b.at(s.day, s.hour, 5)
	for i := 1; i <= s.charges && b.err == nil; i++ {
		g := shop.Ground{Mill: s.mill, From: s.from, Into: s.into, Charge: gram(b.about(s.grams/1000, 0.05)),
			Run: math.Round(b.about(s.run, 0.06)), Stalled: i == s.mishap.stalls, Room: degree(room)}
		switch {
		case g.Stalled:
			g.Run = math.Round(g.Run * 0.35)
		case i == s.charges: // until nothing comes any more: the next polymer finds the mill clean
			g.Run = math.Round(g.Run * untilEmpty)
		}
		if i > 1 {
			rest := math.Round(b.about(330, 0.15))
			g.RestBefore = &rest
			start = start.Add(time.Duration(rest) * time.Second)
			b.stop(mill.rest(rest))
		}
		if s.level > 0 {
			level := s.level
			g.Level = &level
		}
		if wall := b.warmth(mill.warm.Wall); s.habit(i).wall {
			g.WallBefore = wall
		}
		b.grindOne(mill, s, i, &g)
		start = start.Add(time.Duration(g.Run) * time.Second)
		b.noteRun(start, s, i, &g)
	}
}

// grindOne runs a charge and reads what came of it.
func (b *book) grindOne(mill *truth, s session, i int, g *shop.Ground) {
	lot, ok := b.state.Lot(s.from)
	if b.err != nil || !ok {
		return
	}
	out, err := mill.run(lot, g.Charge+b.scatter(handling), s.level, g.Run+b.scatter(watch))
	if err != nil {
		b.stop(err)
		return
	}
	b.keepClasses(s.into, out.passed)
	reads := s.habit(i)
	if wall := b.warmth(out.wall); reads.wall {
		g.WallAfter = wall
	}
	if i%3 == 0 && !g.Stalled { // felt with a probe, and seldom written down
		if content := b.warmth(out.content); reads.charge {
			g.ChargeAfter = content
		}
	}
	if s.level > 0 && b.chance.Float64() < 0.7 { // so is what the meter shows
		if energy := math.Round(out.energy*(1+b.scatter(meter))/360) * 360; reads.energy { // 0.1 Wh steps
			g.Energy = known(energy)
		}
	}
	dust := out.dust * sum(out.passed)
	g.Product = known(gram(sum(out.passed) - dust + b.scatter(handling)))
	if i == s.charges { // brushed out
		g.Left, g.Swept = known(0.0), known(gram(out.left+0.6*dust))
		return
	}
	if left := gram(max(0, out.left+b.scatter(handling))); reads.left {
		g.Left = known(left)
	}
}

// habit is what is read at a charge of a session, by whoever stands there: the product
// always, the wall at the first charge and every other day at all of them, what stays in
// the mill where something is odd and now and then, the charge's own temperature and
// the meter seldom.
type habit struct{ left, wall, charge, energy bool }

func (s session) habit(i int) habit {
	odd := i == s.mishap.slips || i == s.mishap.misread || i == s.mishap.stalls
	before := i+1 == s.mishap.slips || i+1 == s.mishap.misread
	return habit{left: odd || before || (s.day+i)%5 == 0, wall: i == 1 || s.day%2 == 0, charge: s.day%2 == 0, energy: (s.day+i)%4 == 0}
}

// noteRun writes a run down, with the slips of whoever types.
func (b *book) noteRun(at time.Time, s session, i int, g *shop.Ground) {
	if b.err != nil {
		return
	}
	meant := *g
	switch i {
	case s.mishap.slips:
		g.Product = known(gram(*g.Product - slip))
	case s.mishap.misread:
		g.Product = known(gram(*g.Product - misread))
	}
	kept := b.note(at, s.who, g)
	if i == s.mishap.slips {
		b.slipped, b.meant = kept, meant
	}
}

// warmth is a reading of a temperature.
func (b *book) warmth(kelvin float64) *float64 {
	return degree(kelvin - 273.15 + b.scatter(thermometer))
}

// keepClasses adds a run's product to what its lot is made of.
func (b *book) keepClasses(lot shop.LotID, passed []float64) {
	all := b.classes[lot]
	if all == nil {
		all = make([]float64, len(passed))
		b.classes[lot] = all
	}
	for c, m := range passed {
		all[c] += m
	}
}

// correctACharge mends the slip: the product was typed in too light.
func (b *book) correctACharge() {
	if b.err != nil {
		return
	}
	b.write(shop.Record{At: b.slipped.At, NotedAt: b.at(35, 8, 40), By: jonas, Corrects: b.slipped.ID,
		Note: "read the scale again from the photo: a 7, not a 3", Body: &b.meant})
}
