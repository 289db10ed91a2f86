package outside

import "math"

// tick is the step of the equations [s]; the fastest lump takes several.
const tick = 0.5

// crumbs is the share of a usual charge below which nobody minds how hot it gets.
const crumbs = 0.1

// Run grinds a charge on top of what the mill holds.
func (m *Mill) Run(set Setting) Gave {
	if m.s.inBag <= 0 {
		m.fresh()
	}
	m.s.inBag -= set.Charge
	g := m.fill(set.Charge)
	speed := m.Speed(set.Level)
	if m.stalls(speed) {
		g.Stalled = true
		set.Time = min(set.Time, 8)
	}
	luck := m.scatter(0.07)
	left := set.Time
	for left > 1e-9 {
		dt := min(tick, left)
		if g.Stalled { // it hums
			g.Energy += dt * 0.6 * m.Face.Rated
			m.s.inner += dt * 0.1 * m.Face.Rated / m.t.capacity
		} else {
			m.step(dt, speed, luck, &g)
		}
		left -= dt
		if m.loose() > crumbs*m.t.mass { // the last crumbs stick to nothing
			g.Hottest = max(g.Hottest, m.s.charge)
		}
	}
	m.s.worn *= math.Exp(-m.t.wear * set.Charge)
	g.Time, g.Left, g.Charge, g.Wall = set.Time, m.Holds(), m.s.charge, m.s.outer
	g.Loose = m.loose()
	g.Volume = g.Product / m.t.bulk
	m.sizes(&g, set.Time, speed)
	return g
}

// fill puts a charge in.
func (m *Mill) fill(charge float64) Gave {
	held := m.loose()
	g := Gave{Fill: (charge/(m.t.loose*m.s.bag.loose) + held/m.t.bulk) / m.Face.Chamber}
	m.s.charge = (held*m.s.charge + charge*m.Face.Room) / (held + charge)
	tough := min(m.t.tough*m.s.bag.tough, 0.8)
	m.s.pieces[0] += (1 - tough) * charge
	m.s.pieces[1] += tough * charge
	g.Hottest = m.s.charge
	return g
}

// stalls is whether the rotor cannot move what lies before it.
func (m *Mill) stalls(speed float64) bool {
	load := m.loose() / m.s.bag.loose / m.t.stall * math.Pow(m.t.speed/speed, m.t.grip)
	return load*m.scatter(0.08) > 1
}

// step is one tick of grinding, leaving and warming.
func (m *Mill) step(dt, speed, luck float64, g *Gave) {
	t, s, room := &m.t, &m.s, m.Face.Room
	held := m.loose()
	fill := max(held, 1e-4) / t.mass
	pace := speed / t.speed
	rate := t.rate * s.worn * s.bag.rate * luck * math.Pow(pace, t.speedPower) *
		math.Pow(max(fill, 0.1), -t.crowd) * math.Exp(-(s.charge-room-5)/t.warm) / (1 + math.Pow(held/t.cushion, 4))
	rate = min(rate, 0.5)
	for i, ease := range [2]float64{1, 0.25} {
		broken := min(dt*rate*ease, 0.5) * s.pieces[i]
		ground := min(dt*rate*ease, 0.5) * s.grains[i]
		s.pieces[i] -= broken
		s.grains[i] += (1-t.direct)*broken - ground
		s.fine += t.direct*broken + ground
	}
	if s.corner < t.corner {
		into := min(dt/40*s.fine, t.corner-s.corner)
		s.fine -= into
		s.corner += into
	}
	out := min(dt*t.pass*s.open*math.Sqrt(pace), 0.5) * s.fine
	s.fine -= out
	s.open = max(0.15, s.open*math.Exp(-t.smear*out*math.Exp((s.charge-room-15)/20)))
	spilt := out * min(0.3, t.spill+t.spillUp*speed*speed)
	g.Product += out - spilt
	g.Spilt += spilt
	m.warmUp(dt, speed, held, g)
}

// warmUp is where the power goes.
func (m *Mill) warmUp(dt, speed, held float64, g *Gave) {
	t, s, room := &m.t, &m.s, m.Face.Room
	hit := t.hit * math.Pow(speed/t.speed, 3) * math.Pow(held/t.mass, 1-t.crowd) * held / (held + 0.15*t.mass)
	hit = min(hit, 0.45*m.Face.Rated*speed)
	empty := t.idle*speed + t.windage*math.Pow(speed, 3)
	g.Energy += dt * (t.fixed + (hit+empty)/t.yield)
	within := held * t.cp
	flow := t.film * (held / (held + 0.3*t.mass)) * (s.charge - s.inner)
	if within > 1 {
		warmer := (t.share*hit - flow - t.breeze*speed*(s.charge-room)) * dt / max(within, 12)
		s.charge += max(-5, min(5, warmer))
	}
	if held < 0.002 {
		s.charge = s.inner
	}
	across := t.through * (s.inner - s.outer)
	s.inner += dt * ((1-t.share)*hit + t.toWall*empty + flow - across) / (0.35 * t.capacity)
	s.outer += dt * (across - (t.still(s.outer-room)+t.fan*speed)*(s.outer-room)) / (0.65 * t.capacity)
}

// still is the loss of the wall in still air: free convection grows a little
// with the difference.
func (t *truth) still(rise float64) float64 {
	return t.loss * math.Pow(max(rise, 0.5)/15, 0.2)
}

// Stand lets the mill cool for a time, lid open.
func (m *Mill) Stand(time float64) {
	t, s, room := &m.t, &m.s, m.Face.Room
	for left := time; left > 0; left -= 5 {
		dt := min(5, left)
		across := min(t.through, 60) * (s.inner - s.outer)
		s.inner -= dt * (across + 0.3*t.loss*(t.lid-1)*(s.inner-room)) / (0.35 * t.capacity)
		s.outer += dt * (across - t.lid*t.still(s.outer-room)*(s.outer-room)) / (0.65 * t.capacity)
		s.charge += (s.inner - s.charge) * min(1, dt/60)
	}
}

// sizes says what the product is like: a truncated RRSB body and a tail of
// fines that grows with speed and time, and coarser when warm.
func (m *Mill) sizes(g *Gave, time, speed float64) {
	body := m.Face.Hole * m.t.coarse * math.Pow(speed/m.t.speed, -0.3) * math.Pow(m.s.open, 0.25)
	fines := min(0.5, m.t.fines*math.Pow(speed/m.t.speed, 1.5)*math.Sqrt(time/120))
	m.s.newest = [2]float64{body, fines}
	g.Fines = m.Finer(0.0005)
	lo, hi := 1e-5, m.Face.Hole
	for range 40 {
		if mid := math.Sqrt(lo * hi); m.Finer(mid) < 0.5 {
			lo = mid
		} else {
			hi = mid
		}
	}
	g.D50 = lo
}

// Finer is the share of the newest product finer than a size.
func (m *Mill) Finer(x float64) float64 {
	body, fines := m.s.newest[0], m.s.newest[1]
	if body == 0 {
		return 0
	}
	whole := 1 - math.Exp(-math.Pow(m.Face.Hole/body, m.t.slope))
	return (1-fines)*min(1, (1-math.Exp(-math.Pow(x/body, m.t.slope)))/whole) + fines*(1-math.Exp(-x/0.00025))
}
