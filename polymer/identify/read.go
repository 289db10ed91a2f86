package identify

import (
	"fmt"
	"strconv"
)

// between reads a number and holds it between two bounds, ends included.
func between(column, text string, lo, hi float64) (float64, error) {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v >= lo && v <= hi) {
		return 0, fmt.Errorf("column %s: %q is no number between %g and %g", column, text, lo, hi)
	}
	return v, nil
}
