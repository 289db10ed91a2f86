package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// anyKind draws a kind and a finite value it can have.
func anyKind(t *rapid.T) (Kind, float64) {
	k := rapid.SampledFrom(Kinds()).Draw(t, "kind")
	v := rapid.OneOf(
		rapid.Float64Range(-math.MaxFloat64, math.MaxFloat64),
		rapid.Float64Range(-1e4, 1e4),
		rapid.Map(rapid.IntRange(-3000, 3000), func(i int) float64 { return float64(i) / 1000 }),
	).Draw(t, "si")
	if k == Temperature {
		v = math.Abs(v)
	}
	return k, v
}

func TestParseUndoesExact(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		k, v := anyKind(t)
		got, err := k.Parse(k.Exact(v))
		if err != nil || got != v {
			t.Fatalf("%s: %v printed as %q reads as %v, %v", k, v, k.Exact(v), got, err)
		}
	})
}

// Show keeps three digits of the number as shown; of a temperature a tenth of a
// degree up to 100 °C. Whatever is shown can be typed back in.
func TestParseReadsWhatShowPrints(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		k, v := anyKind(t)
		if math.Abs(v) > 1e12 || (v != 0 && math.Abs(v) < 1e-12) {
			return
		}
		got, err := k.Parse(k.Show(v))
		if err != nil {
			t.Fatalf("%s: %v shows as %q: %v", k, v, k.Show(v), err)
		}
		allowed := 0.00501 * math.Abs(v)
		switch k {
		case Count, SoundLevel, Temperature:
			allowed = math.Max(0.51, allowed)
		case Money:
			allowed = math.Max(0.0051, allowed)
		case MoneyPerEnergy:
			allowed = math.Max(0.0051/3.6e6, allowed)
		case MoneyPerMass:
			allowed = math.Max(0.0051, allowed)
		case Duration:
			allowed = 0.0084 * math.Abs(v) // whole minutes from one hour on
		}
		if math.Abs(got-v) > allowed {
			t.Fatalf("%s: %v shows as %q, which reads as %v", k, v, k.Show(v), got)
		}
	})
}

func TestSpanNeverHangsOrHidesAUnit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		k, v := anyKind(t)
		w := v + math.Abs(rapid.Float64Range(0, 1e6).Draw(t, "width"))
		if k.Span(v, w) == "" {
			t.Fatalf("%s %v to %v prints nothing", k, v, w)
		}
	})
}

func FuzzParse(f *testing.F) {
	for i, text := range []string{"240 g", "3 min 20 s", "1:02:03 h", "18 °C", "60 %RH", "1,234 g", "1e-3 kg", "−5 K", "2 lb 3 oz", "6 g/10 min", "0.3 per kWh", "::", "e", "1 ", "5e+", "\xff"} {
		f.Add(i, text)
	}
	f.Fuzz(func(t *testing.T, kind int, text string) {
		kinds := Kinds()
		k := kinds[uint(kind)%uint(len(kinds))]
		for _, unit := range []string{"", k.Default()} {
			v, err := k.ParseOr(text, unit)
			if err != nil {
				continue
			}
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%s: %q reads as %v", k, text, v)
			}
			if again, err := k.Parse(k.Exact(v)); err != nil || again != v {
				t.Fatalf("%s: %q reads as %v, printed and read again %v, %v", k, text, v, again, err)
			}
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Mass.Parse("240.5 g"); err != nil {
			b.Fatal(err)
		}
	}
}
