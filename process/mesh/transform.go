// The affine transforms of a 3MF build.

package mesh

import (
	"math"
	"strconv"
	"strings"
)

// transform maps a row vector: p' = p · M + t, rows m00 m01 m02 to m30 m31 m32
// as a 3MF file writes them.
type transform [12]float64

var identity = transform{1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0}

// uniform scales by one factor.
func uniform(f float64) transform { return transform{f, 0, 0, 0, f, 0, 0, 0, f, 0, 0, 0} }

func (m transform) apply(p point) point {
	return point{
		p[0]*m[0] + p[1]*m[3] + p[2]*m[6] + m[9],
		p[0]*m[1] + p[1]*m[4] + p[2]*m[7] + m[10],
		p[0]*m[2] + p[1]*m[5] + p[2]*m[8] + m[11],
	}
}

// then returns the transform that applies m first and outer second.
func (m transform) then(outer transform) transform {
	var out transform
	for row := range 4 {
		p := point{m[3*row], m[3*row+1], m[3*row+2]}
		if row < 3 {
			copy(out[3*row:], outer.direction(p))
		} else {
			q := outer.apply(p)
			copy(out[9:], q[:])
		}
	}
	return out
}

func (m transform) direction(p point) []float64 {
	return []float64{
		p[0]*m[0] + p[1]*m[3] + p[2]*m[6],
		p[0]*m[1] + p[1]*m[4] + p[2]*m[7],
		p[0]*m[2] + p[1]*m[5] + p[2]*m[8],
	}
}

// determinant is the factor on volumes, negative for a mirror image.
func (m transform) determinant() float64 {
	return point{m[0], m[1], m[2]}.dot(point{m[3], m[4], m[5]}.cross(point{m[6], m[7], m[8]}))
}

// maxFactor bounds each number of a transform; a part scaled by a million is a
// slip (judgement). Places are bounded after the unit is applied.
const maxFactor = 1e6

// parseTransform reads twelve numbers. A transform that flattens the part is refused.
func parseTransform(text string) (transform, string) {
	if text == "" {
		return identity, ""
	}
	fields := strings.Fields(text)
	var m transform
	if len(fields) != len(m) {
		return m, "has " + strconv.Itoa(len(fields)) + " numbers, not 12"
	}
	for i, word := range fields {
		v, err := strconv.ParseFloat(word, 64)
		if err != nil || !(math.Abs(v) <= maxFactor) {
			return m, "holds " + strconv.Quote(word) + ", which is no number within ±1e6"
		}
		m[i] = v
	}
	if m.determinant() == 0 {
		return m, "flattens the object"
	}
	return m, ""
}
