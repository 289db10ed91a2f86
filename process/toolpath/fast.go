package toolpath

import "bytes"

// fast reads the line at b[p:] if it is the kind most lines of a print are: G0,
// G1, G2 or G3 in upper case with plain words, blanks and perhaps a comment
// after a semicolon. It returns where the next line starts, or 0 when the line
// needs the careful reader. It must never read a line differently from that
// one; a test holds the two against each other. b ends with \n, which ends
// every loop here.
func fast(b []byte, p int, k *block) int {
	code := int32(b[p+1]) - '0'
	if uint32(code) > 3 {
		return 0
	}
	p += 2
	has := uint16(0)
	for {
		c := b[p]
		if c == ' ' {
			p++
			c = b[p]
		}
		slot := slotOf[c]
		if slot >= slots {
			switch c {
			case ' ':
				continue
			case ';':
				p += bytes.IndexByte(b[p:], '\n')
			case '\n':
			default:
				return 0
			}
			k.op, k.code, k.has, k.bare = opG, code*10, has, 0
			return p + 1
		}
		bit := uint16(1) << slot
		if has&bit != 0 {
			return 0
		}
		has |= bit
		p++
		neg := b[p] == '-'
		if neg {
			p++
		}
		start := p
		mant := int64(0)
		for {
			d := b[p] - '0'
			if d > 9 {
				break
			}
			mant = mant*10 + int64(d)
			p++
		}
		whole, frac := p-start, 0
		if b[p] == '.' {
			p++
			point := p
			for {
				d := b[p] - '0'
				if d > 9 {
					break
				}
				mant = mant*10 + int64(d)
				p++
			}
			frac = p - point
		}
		if digits := whole + frac; whole > mostInteger || digits > mostDigits || digits == 0 {
			return 0
		}
		v := float64(mant)
		if frac > 0 {
			v /= pow10[frac]
		}
		if neg {
			v = -v
		}
		k.v[slot] = v
	}
}
