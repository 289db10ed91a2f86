// Package mutant is what a package under mutation calls in place of its operators and
// constants: each does what stood there, but for the one the environment switches on,
// which does its other. So a package is compiled once for all its changes.
package mutant

import (
	"fmt"
	"os"
	"strconv"
	"sync"
)

// What switches a change on, and where the numbers of those reached are written.
const (
	OnVariable   = "HOPPERFUL_MUTANT"
	SeenVariable = "HOPPERFUL_MUTANTS_SEEN"
)

var (
	on, _ = strconv.Atoi(os.Getenv(OnVariable)) // 0: none
	seen  = os.Getenv(SeenVariable)
	told  sync.Map
)

// number is what can be reckoned with.
type number interface {
	~int | ~int8 | ~int16 | ~int32 | ~int64 | ~uint | ~uint8 | ~uint16 | ~uint32 | ~uint64 | ~float32 | ~float64
}

type ordered interface{ number | ~string }

func is(id int) bool {
	if seen != "" {
		reach(id)
	}
	return id == on
}

// reach writes down once that a change was come by.
func reach(id int) {
	if _, old := told.LoadOrStore(id, true); old {
		return
	}
	f, err := os.OpenFile(seen, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		panic(err)
	}
	defer f.Close()
	fmt.Fprintln(f, id)
}

// Add is a + b, or a − b.
func Add[T number](id int, a, b T) T {
	if is(id) {
		return a - b
	}
	return a + b
}

// Sub is a − b, or a + b.
func Sub[T number](id int, a, b T) T {
	if is(id) {
		return a + b
	}
	return a - b
}

// Mul is a · b, or a / b.
func Mul[T number](id int, a, b T) T {
	if is(id) {
		return a / b
	}
	return a * b
}

// Quo is a / b, or a · b.
func Quo[T number](id int, a, b T) T {
	if is(id) {
		return a * b
	}
	return a / b
}

// Less is a < b, or its opposite.
func Less[T ordered](id int, a, b T) bool { return is(id) != (a < b) }

// AtMost is a <= b, or its opposite.
func AtMost[T ordered](id int, a, b T) bool { return is(id) != (a <= b) }

// More is a > b, or its opposite.
func More[T ordered](id int, a, b T) bool { return is(id) != (a > b) }

// AtLeast is a >= b, or its opposite.
func AtLeast[T ordered](id int, a, b T) bool { return is(id) != (a >= b) }

// Same is a == b, or its opposite.
func Same[T comparable](id int, a, b T) bool { return is(id) != (a == b) }

// Other is a != b, or its opposite.
func Other[T comparable](id int, a, b T) bool { return is(id) != (a != b) }

// And is a && b, or a || b.
func And(id int, a bool, b func() bool) bool {
	if is(id) {
		return a || b()
	}
	return a && b()
}

// Or is a || b, or a && b.
func Or(id int, a bool, b func() bool) bool {
	if is(id) {
		return a && b()
	}
	return a || b()
}

// Const is v, or twice it; of 0, 1.
func Const[T number](id int, v T) T {
	if is(id) {
		if v == 0 {
			return 1
		}
		return 2 * v
	}
	return v
}
