// Laws that hold for every solid: turning and shifting change nothing, scaling
// goes with the cube, and Plastic keeps its order.

package mesh

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"
)

func TestSolidsDoNotChangeWhenMoved(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for _, f := range []facets{box(3, 4, 5), tetrahedron(7), globe(5, 9, 6), ring(9, 2, 8, 5)} {
		base, err := ReadSTL(bytes.NewReader(f.text("a")), Options{})
		if err != nil {
			t.Fatal(err)
		}
		for range 20 {
			scale := math.Exp(rng.NormFloat64())
			by := point{1e4 * rng.NormFloat64(), 1e4 * rng.NormFloat64(), 1e4 * rng.NormFloat64()}
			got, err := ReadSTL(bytes.NewReader(f.moved(6*rng.Float64(), scale, by).text("b")), Options{})
			if err != nil {
				t.Fatal(err)
			}
			// Ten metres off, coordinates in millimetres carry 1e-12 of 1e4.
			if r := got.Volume / (base.Volume * scale * scale * scale); math.Abs(r-1) > 1e-10 {
				t.Errorf("volume off by %g", r-1)
			}
			if r := got.Area / (base.Area * scale * scale); math.Abs(r-1) > 1e-10 {
				t.Errorf("area off by %g", r-1)
			}
			if got.OpenEdges != base.OpenEdges || got.Shells != 1 || got.Inverted || !got.Closed {
				t.Errorf("got %+v", got)
			}
		}
	}
}

func TestTransformsCompose(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 4))
	random := func() (m transform) {
		for i := range m {
			m[i] = rng.NormFloat64()
		}
		return m
	}
	for range 100 {
		m, n, p := random(), random(), point{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		d := m.then(n).apply(p).minus(n.apply(m.apply(p)))
		if d.norm() > 1e-12 {
			t.Fatalf("then differs from one after the other by %g", d.norm())
		}
		if w := m.then(n).determinant() - m.determinant()*n.determinant(); math.Abs(w) > 1e-11 {
			t.Fatalf("determinants do not multiply: %g", w)
		}
	}
}

func TestPlasticKeepsItsOrder(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(5, 6))
	for range 2000 {
		v := math.Exp(-14 + 3*rng.NormFloat64())
		p := Part{Volume: v, Area: math.Cbrt(36*math.Pi*v*v) * (1 + rng.ExpFloat64()),
			Wall: 0.002 * rng.Float64(), Infill: rng.Float64(), Density: 1240}
		m, err := Plastic(p)
		if err != nil {
			t.Fatal(err)
		}
		if !(m.Low <= m.Value && m.Value <= m.High && m.High <= m.Solid*(1+1e-12) && m.Low >= p.Infill*m.Solid*(1-1e-12)) {
			t.Fatalf("out of order for %+v: %+v", p, m)
		}
		p.Wall *= 1.1
		thicker, err := Plastic(p)
		if err != nil || thicker.Value < m.Value*(1-1e-12) {
			t.Fatalf("thicker walls weigh less: %+v, %v", thicker, err)
		}
	}
}
