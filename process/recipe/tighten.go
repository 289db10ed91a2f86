package recipe

// How much of a lot any recipe can hold, by one limit at a time. It makes the
// row that counts lots bite: a lot that can be at most a tenth of the blend
// counts a tenth of it ten times.

import "math"

// tighten lowers hi where a limit on a mean leaves less room. A lot that lies
// beyond the limit by b has to be made up for by the others, at best by the one
// that lies furthest within it:  x (b − b_min) ≤ −b_min (1 + slack).
func (m *model) tighten() {
	whole := 1 + m.p.Slack/m.p.Mass
	for _, l := range m.p.Limits {
		if !math.IsInf(l.Hi, 1) {
			m.tightenBy(whole, func(k int) float64 { return l.Of[m.lots[k]] - l.Hi })
		}
		if !math.IsInf(l.Lo, -1) {
			m.tightenBy(whole, func(k int) float64 { return l.Lo - l.Of[m.lots[k]] })
		}
	}
}

func (m *model) tightenBy(whole float64, beyond func(k int) float64) {
	best := math.Inf(1)
	for k := range m.lots {
		if m.hi[k] > 0 {
			best = min(best, beyond(k))
		}
	}
	if best > 0 {
		return // no blend keeps this limit; the program will say so
	}
	for k := range m.lots {
		b := beyond(k)
		if b <= 0 || m.hi[k] == 0 {
			continue
		}
		room := -best * whole / (b - best) * (1 + 1e-9)
		if room >= m.hi[k] {
			continue
		}
		m.hi[k] = down(room, m.step[k])
		if m.hi[k] < m.least[k] {
			m.hi[k] = 0
		}
		m.hi[k] = max(m.hi[k], m.lo[k]) // a lot that must be used stays possible: the program tells why not
	}
}
