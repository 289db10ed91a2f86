package outside

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// New is the mill of a seed: the first that somebody would work with.
func New[S Seed](seed S) *Mill {
	d := dice{seed.Chance(0)}
	for {
		m := &Mill{chance: d.Rand, s: state{open: 1, worn: 1}}
		m.choose(d)
		m.face(d)
		m.breaking(d)
		m.power(d)
		m.heat(d)
		m.oddities(d)
		if m.settle(d) {
			m.fresh()
			m.Cool()
			return m
		}
	}
}

// dice draws from ranges.
type dice struct{ *rand.Rand }

func (d dice) in(lo, hi float64) float64 { return lo + (hi-lo)*d.Float64() }

// around is log-uniform between the two.
func (d dice) around(lo, hi float64) float64 { return lo * math.Pow(hi/lo, d.Float64()) }

func (d dice) odds(p float64) bool { return d.Float64() < p }

// choose draws two to six oddities.
func (m *Mill) choose(d dice) {
	for _, k := range d.Perm(int(kinds))[:2+d.IntN(5)] {
		m.odd[k] = true
	}
}

// face draws what the mill looks like.
func (m *Mill) face(d dice) {
	f := &m.Face
	f.Polymer, f.Softening = "PLA", 273.15+58
	if d.odds(0.35) {
		f.Polymer, f.Softening = "PETG", 273.15+77
	}
	f.Chamber = d.around(0.0007, 0.003)
	f.Rated = math.Round(f.Chamber*1e3*d.around(900, 1900)/50) * 50
	f.Hole = math.Round(d.around(1.5, 4)*10) / 1e4
	f.Open = d.in(0.2, 0.45)
	f.Wall = math.Round(10*2.6*math.Pow(f.Chamber*1e3, 0.7)*d.around(0.7, 1.5)) / 10
	f.Jar = math.Round(f.Chamber*1e3*d.in(0.2, 0.5)*20)/20/1e3 + 0.0001
	f.Rotor = 0.9 * math.Cbrt(4*f.Chamber/math.Pi)
	f.Room = 273.15 + math.Round(d.in(16, 24))
	if !d.odds(0.12) {
		f.Levels = []int{8, 10, 12, 16, 20, 22}[d.IntN(6)]
	}
}

// breaking draws how it grinds. A usual charge of some 50 g a litre is mostly
// through after two minutes (common practice, no source).
func (m *Mill) breaking(d dice) {
	t := &m.t
	level := 0
	if m.Face.Levels > 0 {
		level = int(math.Round(d.in(0.5, 0.72) * float64(m.Face.Levels)))
	}
	litres := m.Face.Chamber * 1e3
	m.Usual = Setting{Charge: litres * d.around(0.035, 0.065), Level: level, Time: d.in(60, 140)}
	t.mass = litres * 0.05
	t.s = 0
	if m.odd[Response] {
		t.s = d.in(1.4, 2.2)
	}
	t.speed = m.Speed(level)
	t.rate, t.speedPower = 1/d.around(14, 34), d.in(1.2, 2.8)
	if m.Face.Polymer == "PETG" {
		t.rate *= 0.7
	}
	t.crowd, t.warm, t.cushion = 1, math.Inf(1), t.mass*d.in(2.5, 4)
	t.direct, t.wear = d.in(0.2, 0.45), d.around(0.003, 0.03)
	t.pass = 1 / d.around(9, 30)
	t.spill = d.in(0.002, 0.008)
	t.coarse, t.slope, t.fines = d.in(0.32, 0.6), d.in(1.6, 2.8), d.in(0.02, 0.09)
	t.loose, t.bulk = d.in(130, 240), d.in(420, 580)
	t.stall, t.grip = t.mass*d.in(2.2, 3.4), 1.2
}

// Jam makes the rotor stall readily: from now on it takes only so many times what usual
// charges, each on top of what the last left, bring before it. A series motor's torque
// falls with the square of its voltage (from memory); the power of the speed stands
// for that.
func (m *Mill) Jam(times float64) {
	c, most := m.Quiet(), 0.0
	for range 4 {
		most = max(most, c.loose()+m.Usual.Charge)
		c.Run(m.Usual)
		c.Stand(m.Rest)
	}
	m.t.stall, m.t.grip = times*most, 2
}

// power draws where the watts go. 100 to 300 kJ/kg is judgement for such mills.
func (m *Mill) power(d dice) {
	t := &m.t
	t.hit = d.around(100e3, 300e3) * t.mass / 70
	t.fixed, t.yield = 0.02*m.Face.Rated, d.in(0.5, 0.75)
	t.idle = m.Face.Rated * d.in(0.06, 0.13)
	t.share, t.toWall = d.in(0.5, 0.85), d.in(0.15, 0.5)
}

// heat draws how it warms and cools.
func (m *Mill) heat(d dice) {
	t := &m.t
	face := math.Pow(m.Face.Chamber*1e3, 2.0/3)
	t.film, t.breeze = face*d.around(3.5, 10), face*d.around(0.2, 1.2)
	t.capacity = m.Face.Wall * d.in(440, 560)
	t.through = 400
	t.loss, t.lid = face*d.around(0.35, 0.9), d.in(1.1, 2)
	t.cp, t.emissivity = d.in(1250, 1800), 1
}

// oddities puts in what the mill departs by.
func (m *Mill) oddities(d dice) {
	t := &m.t
	for k, put := range [kinds]func(){
		Warming:    func() { t.warm = d.around(22, 50) },
		Blinding:   func() { t.smear = d.around(0.3, 1.2) * 0.1 / t.mass },
		Windage:    func() { t.windage, t.idle = m.Face.Rated*d.in(0.12, 0.3), m.Face.Rated*0.02 },
		Tough:      func() { t.tough = d.in(0.1, 0.35) },
		Spills:     func() { t.spillUp = d.in(0.02, 0.1) },
		Emissivity: func() { t.emissivity = d.in(0.55, 0.88) },
		Corner:     func() { t.corner = t.mass * d.in(0.08, 0.4) },
		Crowding:   func() { t.crowd = d.in(0.05, 0.85) },
		Fan:        func() { t.fan = t.loss * d.in(2, 6) },
		SlowWall:   func() { t.through = t.capacity * 0.35 / d.in(40, 120) },
	} {
		if m.odd[k] && put != nil {
			put()
		}
	}
}

// settle finds what a careful maker has come to: the setting nearest to the
// first guess whose charges neither stall nor smell and come out; false when
// there is none, and nobody would keep such a mill.
func (m *Mill) settle(d dice) bool {
	guess := m.Usual
	m.Rest = 60 * math.Round(d.in(3, 8))
	type try struct {
		Setting
		far float64
	}
	var all []try
	for level := max(1, m.Face.Levels/3); level <= max(1, m.Face.Levels*9/10); level++ {
		for _, share := range []float64{1, 0.85, 0.7, 0.55} {
			for time := 45.0; time <= 240; time += 15 {
				t := try{Setting: Setting{max(0.02, math.Round(guess.Charge*share/0.005)*0.005), level, time}}
				t.far = math.Abs(math.Log(time/guess.Time)) + 2*math.Abs(math.Log(t.Charge/guess.Charge))
				if m.Face.Levels == 0 {
					t.Level = 0
				} else {
					t.far += 3 * math.Abs(math.Log(float64(level)/float64(guess.Level)))
				}
				all = append(all, t)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b try) int { return cmp.Compare(a.far, b.far) })
	for _, t := range all {
		if m.sane(t.Setting) {
			m.Usual = t.Setting
			return true
		}
	}
	return false
}

// sane is whether four charges in a row go as a careful maker likes them.
func (m *Mill) sane(set Setting) bool {
	c := m.Quiet()
	for range 4 {
		g := c.Run(set)
		if g.Stalled || g.Hottest > m.Face.Softening-13 || g.Wall > 273.15+50 || g.Fill > 0.33 || g.Left > 0.6*set.Charge {
			return false
		}
		c.Stand(m.Rest)
	}
	return true
}
