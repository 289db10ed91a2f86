package toolpath

// corner works out how fast the machine may take the corner between two moves.
//
// At a corner turned by φ the speed v is the same before and after, so the
// velocity jumps by 2 v sin(φ/2); with cos φ the product of the directions,
// v² ≤ jump² / (2 (1 − cos φ)). Own derivation.
type corner struct {
	jump2         float64 // [m²/s²]
	x, y, z       float64 // direction at the end of the last move, as long as that
	length, speed float64 // of the last move
	moving        bool    // false after a stop: the next move begins at rest
}

// into takes the direction in which the next leg begins, as long as the leg, and
// returns the square of the speed its first corner allows [m²/s²].
func (c *corner) into(l *leg, x, y, z float64) float64 {
	if !c.moving {
		return 0
	}
	slower := l.speed
	if c.speed < slower {
		slower = c.speed
	}
	v2 := slower * slower
	// Both sides of the inequality times the two lengths: one division, not three.
	product := l.length * c.length
	bend := 2 * (product - (x*c.x + y*c.y + z*c.z))
	if bend*v2 > c.jump2*product {
		v2 = c.jump2 * product / bend
	}
	return v2
}

// out keeps the direction in which the leg ends.
func (c *corner) out(l *leg, x, y, z float64) {
	c.x, c.y, c.z = x, y, z
	c.length, c.speed, c.moving = l.length, l.speed, true
}
