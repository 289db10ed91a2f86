package quantity

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestTypedAsAPersonWould(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind Kind
		si   float64
		unit string
		want string
	}{
		{Duration, 209, "min", "3:29"}, {Duration, 210, "min", "3.5"}, {Duration, 50, "min", "0:50"}, {Duration, 209.25, "min", "3:29.25"},
		{Duration, 4500, "h", "1.25"}, {Duration, 4400, "h", "1:13:20"}, {Duration, 4440, "h", "1:14"}, {Duration, 209, "s", "209"},
		{Mass, 0.0784, "g", "78.4"}, {Length, 2.8e-3, "mm", "2.8"}, {Temperature, 293.15, "°C", "20"}, {MoneyPerEnergy, 0.3 / 3.6e6, "per kWh", "0.3"},
	} {
		if got := c.kind.Typed(c.si, c.unit); got != c.want {
			t.Errorf("%v %v: got %q, wanted %q", c.kind, c.si, got, c.want)
		}
	}
}

// What is filled in is read back as what it was, and never has ten digits of time.
func TestTypedIsReadBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]string{"s", "min", "h"}).Draw(t, "unit")
		si := float64(rapid.IntRange(0, 100*3600*1000).Draw(t, "ms")) / 1000
		text := Duration.Typed(si, unit)
		back, err := Duration.ParseOr(text, unit)
		if err != nil || math.Abs(back-si) > 1e-9*si {
			t.Fatalf("%v s in %s is %q, read back as %v, %v", si, unit, text, back, err)
		}
		if _, places, ok := strings.Cut(text, "."); ok && len(places) > 3 {
			t.Fatalf("%q", text)
		}
	})
}

func TestFineTellsApart(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind Kind
		si   float64
		want string
	}{
		{Length, 9.999e-5, "99.99 µm"}, {Length, 0.10001, "100.01 mm"}, {Temperature, 333.16, "60.01 °C"}, {Mass, 1000.4, "1.0004 t"}, {Share, 1.0001, "100.01 %"},
	} {
		if got := c.kind.Fine(c.si); got != c.want && got != strings.Replace(c.want, "1.0004 t", "1000.4 kg", 1) {
			t.Errorf("%v: got %q, wanted %q", c.si, got, c.want)
		}
	}
}
