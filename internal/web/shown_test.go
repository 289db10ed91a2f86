package web

import (
	"testing"

	"hopperful/figure"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/site"
	"hopperful/quantity"
)

func TestANumberKeepsItsUnit(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"Grind 9 charges of 180 g; done.": "Grind 9 charges of 180\u00a0g; done.", "at 58 °C.": "at 58\u00a0°C.", "3 min 20 s": "3\u00a0min 20\u00a0s", "": "",
		"2.0e-11 to 3.5e+09": "2.0\u00a0×\u00a010⁻¹¹ to 3.5\u00a0×\u00a010⁹", "#c98a5c of 1e3": "#c98a5c of 1e3", "auf Stufe 7": "auf Stufe\u00a07",
		"2026-11-01 to 2026-11-30: 1 kg": "2026-\u206011-\u206001\u00a0to 2026-\u206011-\u206030: 1\u00a0kg", "12-34": "12-34",
	} {
		if got := site.Together(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}

func TestAFigureIsSplitAndBarred(t *testing.T) {
	t.Parallel()
	for shown, want := range map[string][2]string{"1.24 kg": {"1.24", "kg"}, "3 min 20 s": {"3 min 20 s", ""}, "7 g/10 min": {"7 g/10 min", ""}, "58 °C": {"58", "°C"}, "5": {"5", ""}, "−3 °C": {"−3", "°C"}} {
		if v, u := figures.SplitUnit(shown); v != want[0] || u != want[1] {
			t.Errorf("%q splits into %q and %q", shown, v, u)
		}
	}
	f := figure.Figure{Key: "t", Name: "temperature", Kind: quantity.Temperature, Value: 320, Low: 310, High: 330}
	f = f.Held(figure.Limit{Name: "softening", Value: 335, Side: figure.Below, Holds: 0.97})
	b := figures.ViewBar(f)
	if b == nil || !b.HasLimit || !(b.Lo < b.Mid && b.Mid < b.Lo+b.Width && b.Lo+b.Width < b.LimitAt && b.LimitAt < figures.BarWidth) {
		t.Errorf("the bar is out of order: %+v", b)
	}
	f.Limit.Value = 1000
	if figures.ViewBar(f).HasLimit {
		t.Error("a limit far away squeezes the range")
	}
	if figures.ViewBar(figure.Exact("m", "mass", quantity.Mass, 1, figure.Measured)) != nil {
		t.Error("a number without a range has a bar")
	}
}
