package grain

import (
	"errors"
	"testing"

	"hopperful/internal/checkrow"
)

// summed are the sums over all grains of a picture, which no grain can leave unmoved.
func summed(m *Measured) map[string]float64 {
	sums := map[string]float64{}
	for _, g := range m.Grains {
		for name, v := range map[string]float64{"x": g.X, "y": g.Y, "area": g.Area, "width": g.Width, "length": g.Length, "across": g.Across, "down": g.Down, "solid": g.Solid, "level": g.Level,
			"outline": float64(len(g.Outline))} {
			sums[name] += v
		}
		if g.Split {
			sums["split"]++
		}
		for _, p := range g.Outline {
			sums["outline-x"] += p.X
		}
	}
	sums["grains"] = float64(len(m.Grains))
	return sums
}

// What is measured in rendered pictures is as approved: go test ./process/grain -run
// AsApproved -update keeps it. How near the truth it is is held by TestRendered; this holds
// what nobody meant to move, the limits found and by how much pictures are refused among it.
func TestPicturesMeasureAsApproved(t *testing.T) {
	t.Parallel()
	cases := []struct {
		name   string
		change func(*scene)
	}{
		{"usual", func(s *scene) { s.cover = 0.08 }},
		{"hard", func(s *scene) {
			s.tilt, s.margin, s.blur, s.noise, s.falloff, s.ground, s.light, s.polygons, s.cover = 15, 1.5, 1.1, 0.04, 0.5, 0.03, 0.7, true, 0.12
		}},
		{"uneven", func(s *scene) {
			s.paper, s.ground, s.light, s.clear, s.falloff, s.tint = 0.4, 0.95, 0.3, true, 0.5, [3]float64{1, 0.8, 0.6}
		}},
		{"card", func(s *scene) {
			s.sheet, s.noMarks, s.card, s.tilt, s.d50, s.least, s.cover, s.perMM, s.most = usual().sheet, true, true, 5, 4e-3, 2e-3, 0.04, 3, 8e-3
		}},
		{"covered", func(s *scene) { s.cover = 0.31 }},
		{"faint", func(s *scene) { s.light, s.cover = 0.79, 0.05 }},
		{"noisy", func(s *scene) { s.light, s.noise = 0.66, 0.2 }},
		{"blurred", func(s *scene) { s.blur, s.cover, s.d50 = 1.7, 0.05, 1.3e-3 }},
		{"too-fine", func(s *scene) { s.d50, s.least = 0.9e-3, 0.2e-3 }},
	}
	for _, c := range cases {
		if name, change := c.name, c.change; !t.Failed() { // one that differs says it
			measureAsApproved(t, name, change)
		}
	}
}

func measureAsApproved(t *testing.T, name string, change func(*scene)) {
	t.Helper()
	img, _ := half(func(s *scene) { s.perMM, s.d50, s.least = 7, 1.8e-3, 0.4e-3; change(s) }).render()
	m, err := Measure(img, Options{})
	var refused *Refusal
	switch {
	case errors.As(err, &refused):
		checkrow.Approved(t, "picture-"+name, refused)
		return
	case err != nil:
		t.Fatal(name, err)
	}
	h, err := Weigh([]Sample{{Spreads: []*Spread{&m.Spread}, Mass: 1e-3}}, Plastic{Density: 1240, Wall: 1e-3})
	if err != nil {
		t.Fatal(err)
	}
	z, err := Sizing(h, Ask{Shape: PriorShape(), Sieves: []float64{0.5e-3, 1e-3, 2e-3}, Scale: m.Standing.Error, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	s := m.Standing
	checkrow.Approved(t, "picture-"+name, map[string]any{"sums": summed(m), "sizes": z, "channel": m.Channel, "per": m.PerGrain, "pixel": m.Pixel, "cover": m.Cover, "contrast": m.Contrast,
		"noise": m.Noise, "blur": m.Blur, "touching": m.Touching, "lighter": m.Lighter, "off": s.Off, "tilt": s.Tilt, "error": s.Error, "field": s.Field, "thickness": h.Thickness})
}
