package figure

import (
	"fmt"
	"math"
	"regexp"
	"slices"
)

// MaxDepth is how deep figures may stand inside figures. Real reasons are
// under ten deep; more means that a figure was made an input of itself.
const MaxDepth = 40

// maxParts bounds the figures inside one figure, all depths together, so that
// inputs shared again and again cannot grow an answer without end.
const maxParts = 20000

var (
	keyForm = regexp.MustCompile(`^[a-z][a-z0-9]*(_[a-z0-9]+)*$`)
	bases   = []Basis{Books, Measured, Entered, Assumed, Reckoned, Learned}
)

// Check reports what makes a figure or one of its inputs unfit to be shown, or
// nil: a number that is not finite, a value outside its range, a key that is no
// snake_case name. The error names the figure.
func Check(f Figure) error {
	parts := 0
	return f.check(0, &parts)
}

func (f Figure) check(depth int, parts *int) error {
	if *parts++; depth > MaxDepth || *parts > maxParts {
		return fmt.Errorf("figure %s: its inputs are more than %d deep or %d in number; is it an input of itself?", f.Key, MaxDepth, maxParts)
	}
	if err := f.checkOwn(); err != nil {
		return err
	}
	for _, in := range f.Inputs {
		if err := in.check(depth+1, parts); err != nil {
			return fmt.Errorf("%w (an input of %s)", err, f.Key)
		}
	}
	return nil
}

func (f Figure) checkOwn() error {
	fail := func(format string, args ...any) error {
		return fmt.Errorf("figure %q: %s", f.Key, fmt.Sprintf(format, args...))
	}
	for _, n := range []struct {
		name  string
		value float64
	}{{"value", f.Value}, {"low", f.Low}, {"high", f.High}} {
		if !finite(n.value) {
			return fail("its %s is not a finite number", n.name)
		}
	}
	switch {
	case !keyForm.MatchString(f.Key):
		return fail("the key is no snake_case name")
	case f.Name == "":
		return fail("it has no name")
	case f.Value < f.Low || f.Value > f.High:
		return fail("its value %g lies outside its range %g to %g", f.Value, f.Low, f.High)
	case !slices.Contains(bases, f.Basis):
		return fail("its basis %q is none of %q", f.Basis, bases)
	case f.Runs < 0:
		return fail("it rests on %d runs", f.Runs)
	case f.Limit == nil:
		return nil
	case f.Limit.Side != Below && f.Limit.Side != Over:
		return fail("the side %q of its limit is neither %q nor %q", f.Limit.Side, Below, Over)
	case !finite(f.Limit.Value) && !f.Limit.Open():
		return fail("its limit %q is not a number it could keep", f.Limit.Name)
	case f.Limit.Holds < 0 || f.Limit.Holds > 1:
		return fail("its limit holds in a share of %g", f.Limit.Holds)
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
