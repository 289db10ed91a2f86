package toolpath_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hopperful/process/toolpath"
)

// stroke is one random move: where to, how much E forward, how fast.
type stroke struct{ x, y, z, e, f float64 }

// strokes draws a random print in digits such as files have.
func strokes(t *rapid.T) []stroke {
	one := rapid.Custom(func(t *rapid.T) stroke {
		n := func(name string, lo, hi int, scale float64) float64 {
			return float64(rapid.IntRange(lo, hi).Draw(t, name)) * scale
		}
		s := stroke{x: n("x", -200000, 200000, 1e-3), y: n("y", -200000, 200000, 1e-3), z: n("z", 0, 3, 0.25), f: n("f", 60, 12000, 1)}
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
		case 1:
			s.e = n("retraction", -5000, -1, 1e-3)
		default:
			s.e = n("e", 1, 5000, 1e-3)
		}
		return s
	})
	all := rapid.SliceOfN(one, 1, 40).Draw(t, "strokes")
	all[0].e = math.Abs(all[0].e) + 0.5
	return all
}

// written writes strokes out with positions shifted and lengths scaled.
func written(head string, all []stroke, scale, dx, dy float64) string {
	var b strings.Builder
	b.WriteString(head)
	for _, s := range all {
		fmt.Fprintf(&b, "G1 X%.9f Y%.9f Z%.9f E%.9f F%.9f\n", s.x*scale+dx, s.y*scale+dy, s.z*scale, s.e*scale, s.f*scale)
	}
	return b.String()
}

func mustRead(t *rapid.T, text string, o toolpath.Options) toolpath.Summary {
	t.Helper()
	s, err := toolpath.Read(strings.NewReader(text), o)
	if err != nil {
		t.Fatalf("%v in\n%s", err, text)
	}
	return s
}

func same(t *rapid.T, what string, got, want, rel float64) {
	t.Helper()
	if math.Abs(got-want) > rel*math.Abs(want)+1e-18 {
		t.Fatalf("%s: %.12g, wanted %.12g", what, got, want)
	}
}

// sameTotals compares what does not depend on how a print is written down.
func sameTotals(t *rapid.T, got, want toolpath.Summary, rel float64) {
	t.Helper()
	same(t, "volume", got.Volume, want.Volume, rel)
	same(t, "time", got.Time, want.Time, rel)
	same(t, "time with acceleration", got.TimeLimited, want.TimeLimited, rel)
	same(t, "printed path", got.PrintLength, want.PrintLength, rel)
	same(t, "travel", got.TravelLength, want.TravelLength, rel)
	same(t, "peak", got.Peak.Flow, want.Peak.Flow, rel)
}

func TestInchesEqualMillimetres(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		all := strokes(t)
		mm := mustRead(t, written("M83\n", all, 1, 0, 0), toolpath.Options{})
		in := mustRead(t, written("G20\nM83\n", all, 1/25.4, 0, 0), toolpath.Options{})
		sameTotals(t, in, mm, 1e-5)
	})
}

func TestOriginDoesNotMatter(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		all := strokes(t)
		dx := float64(rapid.IntRange(-500, 500).Draw(t, "dx"))
		dy := float64(rapid.IntRange(-500, 500).Draw(t, "dy"))
		here := mustRead(t, written("M83\nG92 X0 Y0\n", all, 1, 0, 0), toolpath.Options{})
		there := mustRead(t, written(fmt.Sprintf("M83\nG92 X%g Y%g\n", dx, dy), all, 1, dx, dy), toolpath.Options{})
		sameTotals(t, there, here, 1e-9)
		if len(here.Layers) != len(there.Layers) {
			t.Fatalf("%d layers here, %d there", len(here.Layers), len(there.Layers))
		}
	})
}

func TestSplittingChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		all := strokes(t)
		parts := rapid.IntRange(2, 30).Draw(t, "parts")
		var whole, split strings.Builder
		for _, b := range []*strings.Builder{&whole, &split} {
			b.WriteString("M83\n")
		}
		var at stroke
		for _, s := range all {
			if s.e < 0 {
				s.e = 0 // a retraction while moving prints differently in parts
			}
			fmt.Fprintf(&whole, "G1 X%.9f Y%.9f E%.9f F%g\n", s.x, s.y, s.e, s.f)
			for i := 1; i <= parts; i++ {
				u := float64(i) / float64(parts)
				fmt.Fprintf(&split, "G1 X%.9f Y%.9f E%.15f F%g\n", at.x+u*(s.x-at.x), at.y+u*(s.y-at.y), s.e/float64(parts), s.f)
			}
			at = s
		}
		got, want := mustRead(t, split.String(), toolpath.Options{}), mustRead(t, whole.String(), toolpath.Options{})
		same(t, "volume", got.Volume, want.Volume, 1e-9)
		same(t, "time", got.Time, want.Time, 1e-6)
		same(t, "path", got.PrintLength+got.TravelLength, want.PrintLength+want.TravelLength, 1e-6)
		same(t, "peak", got.Peak.Flow, want.Peak.Flow, 1e-5)
	})
}

func TestRelativeEqualsAbsolute(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		all := strokes(t)
		var b strings.Builder
		e := 0.0
		for _, s := range all {
			e += s.e
			fmt.Fprintf(&b, "G1 X%.9f Y%.9f Z%.9f E%.9f F%.9f\n", s.x, s.y, s.z, e, s.f)
		}
		sameTotals(t, mustRead(t, b.String(), toolpath.Options{}), mustRead(t, written("M83\n", all, 1, 0, 0), toolpath.Options{}), 1e-6)
	})
}

// TestPeakByBruteForce slides the window over the print in the plainest way.
func TestPeakByBruteForce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "moves")
		window := float64(rapid.IntRange(1, 40).Draw(t, "window")) * 0.1
		var b strings.Builder
		b.WriteString("M83\nG1 F600\n")
		ends, volumes := []float64{0}, []float64{0}
		for i := range n {
			tenths := rapid.IntRange(1, 30).Draw(t, "tenths of a second")
			e := float64(rapid.IntRange(0, 9).Draw(t, "e")) + float64(1-min(i, 1))
			fmt.Fprintf(&b, "G1 X%d E%g\n", (i+1)%2*tenths, e)
			if i%2 == 1 { // from where the last move ended back to 0
				tenths = int(math.Round((ends[i] - ends[i-1]) * 10))
			}
			ends = append(ends, ends[i]+float64(tenths)*0.1)
			volumes = append(volumes, volumes[i]+e*melt)
		}
		at := func(time float64) float64 {
			for i := 1; i < len(ends); i++ {
				if time <= ends[i] {
					u := math.Max(0, time-ends[i-1]) / (ends[i] - ends[i-1])
					return volumes[i-1] + u*(volumes[i]-volumes[i-1])
				}
			}
			return volumes[len(volumes)-1]
		}
		most := 0.0
		for k := 0; float64(k)*0.05 < ends[n]+0.01; k++ { // all corners lie on tenths
			to := float64(k) * 0.05
			most = math.Max(most, at(to)-at(math.Max(0, to-window)))
		}
		s := mustRead(t, b.String(), toolpath.Options{Window: window})
		same(t, "peak", s.Peak.Flow*window, most, 1e-9)
	})
}

// TestPeakOfVeryShortMoves chops a steady flow into moves far finer than the
// window tells apart, between two slower stretches.
func TestPeakOfVeryShortMoves(t *testing.T) {
	t.Parallel()
	for _, window := range []float64{0.01, 1, 3} {
		var b strings.Builder
		b.WriteString("M83\nG1 X100 E20 F600\nG1 F6000\n")
		for i := range 100000 { // 5 s at 10 mm/s of filament
			fmt.Fprintf(&b, "G1 X%g E0.0005\n", 100+float64((i+1)%2)*0.005)
		}
		b.WriteString("G1 X0 E20 F600\n")
		s, err := toolpath.Read(strings.NewReader(b.String()), toolpath.Options{Window: window})
		if err != nil {
			t.Fatal(err)
		}
		if got := s.Peak.Flow; math.Abs(got-10*melt) > 0.002*10*melt {
			t.Errorf("window %g s: peak %g, wanted %g", window, got, 10*melt)
		}
	}
}

// TestTimesInOrder: more acceleration or sharper corners never take longer, and
// the feed rate alone is the limit.
func TestTimesInOrder(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := written("M83\n", strokes(t), 1, 0, 0)
		weak := mustRead(t, text, toolpath.Options{Acceleration: 0.5})
		usual := mustRead(t, text, toolpath.Options{})
		strong := mustRead(t, text, toolpath.Options{Acceleration: 5})
		sharp := mustRead(t, text, toolpath.Options{Jump: 0.05})
		const slack = 1 + 1e-12
		if weak.TimeLimited*slack < usual.TimeLimited || usual.TimeLimited*slack < strong.TimeLimited ||
			usual.TimeLimited*slack < sharp.TimeLimited || strong.TimeLimited*slack < strong.Time || usual.Time != weak.Time {
			t.Fatalf("times %g, %g, %g; sharp %g; feed alone %g",
				weak.TimeLimited, usual.TimeLimited, strong.TimeLimited, sharp.TimeLimited, usual.Time)
		}
	})
}
