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

// turn takes the next move, first and last being its directions and as long as
// it, and returns the square of the speed its first corner allows [m²/s²].
func (c *corner) turn(length, speed float64, first, last *[3]float64) float64 {
	v2 := 0.0
	if c.moving {
		slower := min(speed, c.speed)
		v2 = slower * slower
		// Both sides of the inequality times the two lengths: one division, not three.
		product := length * c.length
		bend := 2 * (product - (first[0]*c.x + first[1]*c.y + first[2]*c.z))
		if bend*v2 > c.jump2*product {
			v2 = c.jump2 * product / bend
		}
	}
	c.x, c.y, c.z = last[0], last[1], last[2]
	c.length, c.speed, c.moving = length, speed, true
	return v2
}
