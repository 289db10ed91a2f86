package quantity

import "testing"

func TestPlainDropsZerosThatSayNothing(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind Kind
		si   float64
		want string
	}{
		{Mass, 0.035, "35 g"}, {Mass, 1.2, "1.2 kg"}, {Mass, 0.1055, "106 g"},
		{Duration, 45, "45 s"}, {Duration, 75, "1 min 15 s"}, {Length, 0.0005, "0.5 mm"},
		{Temperature, 293.15, "20 °C"}, {Temperature, 320.65, "47.5 °C"}, {Number, 10, "10"},
	} {
		if got := c.kind.Plain(c.si); got != c.want {
			t.Errorf("%v %g: got %q, want %q", c.kind, c.si, got, c.want)
		}
	}
}
