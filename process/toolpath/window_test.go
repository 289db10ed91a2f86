package toolpath

import (
	"math"
	"math/rand/v2"
	"testing"
)

// flowed is a course of melt in the plainest form: corners of time and sum, straight between them.
type flowed struct{ at, sum []float64 }

// until is the melt up to a time; where melt comes at one moment, with it or before it.
func (f flowed) until(t float64, with bool) float64 {
	v := 0.0
	for i := range f.at {
		switch {
		case f.at[i] < t || f.at[i] == t && with:
			v = f.sum[i]
		case f.at[i] == t:
			return max(v, f.before(i, t))
		default:
			return max(v, f.before(i, t))
		}
	}
	return v
}

func (f flowed) before(i int, t float64) float64 {
	if i == 0 {
		return 0
	}
	if f.at[i] == f.at[i-1] {
		return f.sum[i-1]
	}
	return f.sum[i-1] + (f.sum[i]-f.sum[i-1])*(t-f.at[i-1])/(f.at[i]-f.at[i-1])
}

// most is the largest volume in any window of a width: where that is, an end of it meets a corner.
func (f flowed) most(width float64) float64 {
	best := 0.0
	for _, c := range f.at {
		best = max(best, f.until(c, true)-f.until(c-width, false), f.until(c+width, true)-f.until(c, false))
	}
	return best
}

// The largest flow of any window is what trying each one gives, for steps that push, wait and push
// on the spot; nothing is told that is not above what was known.
func TestTheFullestWindow(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 8))
	for n := range 60 {
		w := &window{}
		width := 0.5 + 3*rng.Float64()
		w.begin(width)
		course := flowed{[]float64{0}, []float64{0}}
		peak, now, sum := 0.0, 0.0, 0.0
		for range 1 + rng.IntN(40) {
			step, melt := float64(rng.IntN(5))/4, float64(rng.IntN(4))
			if rng.IntN(3) == 0 {
				melt = 0
			}
			if step == 0 && n%2 == 0 {
				step = 0.125
			}
			now, sum = now+step, sum+melt
			course.at, course.sum = append(course.at, now), append(course.sum, sum)
			if v := w.add(step, melt, peak); v > 0 {
				if v <= peak {
					t.Fatalf("%g is told over %g", v, peak)
				}
				peak = v
			}
			want := 0.0
			for _, c := range course.at { // windows that have ended
				want = max(want, course.until(c, true)-course.until(c-width, false))
				if c+width <= now {
					want = max(want, course.until(c+width, true)-course.until(c, false))
				}
			}
			if math.Abs(peak-want) > 1e-9 {
				t.Fatalf("case %d, width %g, after %g s: %g, wanted %g", n, width, now, peak, want)
			}
		}
		if all := course.most(width); peak > all+1e-9 {
			t.Fatalf("%g of at most %g", peak, all)
		}
	}
}

// Up to a quarter of the places each step is kept; from there on those of less than a 1024th of the
// width share one. Steps of a 3000th: 1024 alone and the other 1976 by twos make 2012 at the most, then 1500.
func TestACrowdedWindowKeepsALimit(t *testing.T) {
	t.Parallel()
	w := &window{}
	w.begin(3)
	most := 0
	for k := range 12000 {
		w.add(1e-3, 1+float64(k%7), 0)
		most = max(most, w.n)
	}
	if most < 2008 || most > 2016 || w.n < 1495 || w.n > 1505 {
		t.Errorf("at most %d and now %d places are taken", most, w.n)
	}
	// What shares a place is off by no more than one place holds.
	rng := rand.New(rand.NewPCG(9, 9))
	w = &window{}
	w.begin(3)
	sums, peak, want := []float64{0}, 0.0, 0.0
	for k := range 15000 {
		melt := 1 + 3*math.Sin(float64(k)/900)*math.Sin(float64(k)/900) + rng.Float64()
		sums = append(sums, sums[k]+melt)
		want = max(want, sums[k+1]-sums[max(0, k+1-3000)])
		if v := w.add(1e-3, melt, peak); v > 0 {
			peak = v
		}
		if math.Abs(peak-want) > 2*5 {
			t.Fatalf("after %d steps %g, wanted %g", k+1, peak, want)
		}
	}
	// Steps of a 1000th are never told apart less than they are.
	w = &window{}
	w.begin(1)
	for range 5000 {
		w.add(1e-3, 1, 0)
	}
	if w.n < 1000 || w.n > 1002 {
		t.Errorf("%d places for a thousand steps", w.n)
	}
	// However many steps of no length come, there is room.
	w = &window{}
	w.begin(1)
	for k := range 3 * mostSteps {
		if v := w.add(0, 1, float64(k)); math.Abs(v-float64(k+1)) > 1e-9 {
			t.Fatalf("after %d at one moment: %g", k+1, v)
		}
	}
}

// Where there is no number, or one too large, none is given, and where the reading goes on.
func TestWhatIsNoNumberIsNothing(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]struct {
		v     float64
		next  int
		state numberState
	}{
		"": {0, 0, numberNone}, "-": {0, 0, numberNone}, "+.": {0, 0, numberNone}, "-x": {0, 0, numberNone}, "1234567890": {0, 10, numberHuge}, "-1234567890.5": {0, 11, numberHuge},
		"999999999": {999999999, 9, numberOK}, "000999999999": {999999999, 12, numberOK}, "-7x": {-7, 2, numberOK}, "+7.25 ": {7.25, 5, numberOK}, "1.000000000000001": {1.000000000000001, 17, numberOK},
		"12345.67890123456": {12345.67890123456, 17, numberOK}, "-0.1": {-0.1, 4, numberOK},
	} {
		if v, next, state := number([]byte(text), 0); v != want.v || next != want.next || state != want.state {
			t.Errorf("%q: %g to %d, state %d; wanted %+v", text, v, next, state, want)
		}
		if v, next, state := number([]byte("ab"+text), 2); v != want.v || next != want.next+2 || state != want.state {
			t.Errorf("%q two bytes on: %g to %d, state %d", text, v, next, state)
		}
	}
}

// Of the words with M those that print, heat, feed or limit are read; of the others the first
// nine, which mills have, take numbers and those of printers text.
func TestWhichCommandsTakeText(t *testing.T) {
	t.Parallel()
	for code, text := range map[int32]bool{0: false, 10: false, 80: false, 90: false, 91: true, 100: true, 170: true, 180: true, 181: true, 1170: true, 300: false, 20: false, 1040: false, 1041: true, 820: false, 1400: false, 2210: false, 2220: true} {
		if takesText(code) != text {
			t.Errorf("M%g takes text: %t", float64(code)/10, !text)
		}
	}
}

// A move cut off at the end of a file: its letter, one of four numbers and no further digit.
func TestWhatEndsInAMove(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{
		"G1 X1": true, "G0": true, "g3 X": true, "G2": true, "G4 P1": false, "G10": false, "G1": true, "G": false, "": false, "M1": false, "x\nG1": true, "G1 X\nM1": false, "G1\rM5": false, "M5\rG1 Y": true, "; G1": false, "G/": false, "G1X": true,
	} {
		if endsInMove([]byte(text)) != want {
			t.Errorf("%q ends in a move: %t", text, !want)
		}
	}
	for text, want := range map[string]int{"": 0, "a": 0, "\n": 1, "a\nb": 2, "a\rb": 2, "a\r": 0, "\r": 0, "a\rb\r": 2, "a\r\n": 3, "\ra": 1} { // a \r at the end may be half of a line end
		if got := lastLineEnd([]byte(text)); got != want {
			t.Errorf("%q: the last line begins at %d, wanted %d", text, got, want)
		}
	}
	for text, want := range map[string]string{"a\r\nb\rc\r": "a \nb\nc\n", "\r\r\n": "\n \n", "abc": "abc", "": ""} {
		b := []byte(text)
		plainLineEnds(b)
		if string(b) != want {
			t.Errorf("%q becomes %q", text, b)
		}
	}
}
