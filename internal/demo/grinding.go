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
	passes    float64 // share of the charge that leaves through the screen, about
	stall     int     // number of the charge that stalls, 0 none
}

// sessions are the shop's grinding days.
var sessions = []session{
	{84, 16, ada, rattle, "S1", "R1", 5, 88, 62, 10, 0.86, 0},
	{77, 17, ada, rattle, "S2", "R2", 4, 82, 60, 10, 0.88, 0},
	{70, 10, jonas, rattle, "S4", "R3", 5, 72, 95, 11, 0.78, 2},
	{63, 16, mira, rattle, "S10", "R4", 2, 84, 64, 10, 0.85, 0},
	{63, 17, mira, rattle, "S11", "R5", 2, 84, 64, 10, 0.85, 0},
	{49, 18, ada, rattle, "S12", "R1", 2, 78, 70, 10, 0.84, 0},
	{42, 16, ada, rattle, "S13", "R1", 4, 90, 62, 10, 0.86, 0},
	{28, 11, jonas, rattle, "S6", "R6", 3, 76, 88, 11, 0.80, 1},
	{21, 10, jonas, rattle, "S4", "R3", 4, 70, 92, 11, 0.79, 0},
	{13, 15, mira, grumble, "S5", "R7", 2, 110, 180, 0, 0.72, 0},
	{4, 17, ada, rattle, "S1", "R1", 4, 90, 60, 10, 0.87, 0},
}

// The mill's own heat, as this invented shop behaves; the records below only
// have to look like a pot that warms from run to run and cools in the rests.
const (
	potHeat   = 1320.0 // J/K of pot and plate together
	potCools  = 1900.0 // s, time constant towards the room
	chargeTop = 8.0    // K by which the charge leaves hotter than the pot
)

// grind writes a session's charges.
func (b *book) grind(s session) {
	room := b.about(19, 0.06)
	wall := room
	start := b.at(s.day, s.hour, 5)
	for i := 1; i <= s.charges && b.err == nil; i++ {
		rest := b.about(170, 0.25)
		if i > 1 {
			wall = room + (wall-room)*math.Exp(-rest/potCools)
			start = start.Add(time.Duration(rest) * time.Second)
		}
		run := math.Round(b.about(s.run, 0.06))
		stalled := i == s.stall
		if stalled {
			run = math.Round(run * 0.35)
		}
		g := shop.Ground{Mill: s.mill, From: s.from, Into: s.into, Run: run, Stalled: stalled,
			Charge: gram(b.about(s.grams/1000, 0.07)), Room: degree(room), WallBefore: degree(wall)}
		if i > 1 {
			g.RestBefore = known(math.Round(rest))
		}
		wall += b.draw(&g, s) * run / potHeat
		g.WallAfter = degree(b.about(wall, 0.015))
		if i%3 == 0 && !stalled {
			g.ChargeAfter = degree(b.about(wall+chargeTop, 0.03))
		}
		b.weigh(&g, s, i == s.charges)
		start = start.Add(time.Duration(run) * time.Second)
		b.note(start, s.who, &g)
	}
}

// draw sets level and energy of a run and returns the watts that end as heat
// in the pot.
func (b *book) draw(g *shop.Ground, s session) float64 {
	watts, idle := b.about(560, 0.04), 180.0
	if s.level > 0 {
		level := s.level
		g.Level = &level
		watts, idle = b.about(float64(64*level), 0.04), float64(25*level)
		// The meter is read off on most days.
		if b.chance.Float64() < 0.7 {
			g.Energy = known(math.Round(watts*g.Run/360) * 360) // 0.1 Wh steps
		}
	}
	return watts - idle*0.4
}

// weigh sets what came out of the mill and what stayed in it. After the last
// charge the mill is run empty and brushed out, so that the next polymer finds
// it clean.
func (b *book) weigh(g *shop.Ground, s session, last bool) {
	mill, _ := b.state.Mill(s.mill)
	inside := g.Charge + mill.Held
	lost := 0.0006 + 0.0008*b.chance.Float64()
	if last {
		swept := gram(b.about(0.004, 0.3))
		g.Left, g.Swept = known(0.0), &swept
		g.Product = known(gram(inside - swept - lost))
		return
	}
	passes := min(0.97, b.about(s.passes, 0.04))
	if g.Stalled {
		passes *= 0.4
	}
	product := gram(inside * passes)
	g.Product, g.Left = &product, known(gram(inside-product-lost))
}
