package mesh

import (
	"math"
	"strings"
	"testing"
)

// Two bodies in one: every count and both measures add up, the box holds both, one that was inside out makes the whole so.
func TestBodiesAddUp(t *testing.T) {
	t.Parallel()
	a := Solid{Volume: 1, Area: 2, Min: [3]float64{0, -1, 2}, Max: [3]float64{1, 1, 3}, Facets: 3, Degenerate: 4, OpenEdges: 5, Misoriented: 6, Shells: 7, InsideOut: 8}
	b := Solid{Volume: 10, Area: 20, Min: [3]float64{-1, 0, 0}, Max: [3]float64{5, 0.5, 9}, Facets: 30, Degenerate: 40, OpenEdges: 50, Misoriented: 60, Shells: 70, InsideOut: 80, Inverted: true}
	var s Solid
	s.include(a)
	if s.Min != a.Min || s.Max != a.Max || s.Inverted || s.Facets != 3 {
		t.Errorf("the first alone is %+v", s)
	}
	s.include(b)
	if s.Volume != 11 || s.Area != 22 || s.Facets != 33 || s.Degenerate != 44 || s.OpenEdges != 55 || s.Misoriented != 66 || s.Shells != 77 || s.InsideOut != 88 || !s.Inverted ||
		s.Min != [3]float64{-1, -1, 0} || s.Max != [3]float64{5, 1, 9} || s.Size() != [3]float64{6, 2, 9} {
		t.Errorf("both are %+v", s)
	}
	for want, one := range map[string]Solid{"": {Shells: 1}, "inside out": {Shells: 1, Inverted: true}, "not closed": {Shells: 1, OpenEdges: 1}, "not closed ": {Shells: 1, Misoriented: 1}, "facets of no area": {Shells: 1, Degenerate: 1}, "several shells": {Shells: 2}} {
		one.conclude()
		var told []string
		for _, w := range one.Warnings {
			told = append(told, string(w.Caution))
		}
		if got := strings.Join(told, ","); got != strings.TrimSpace(want) || one.Closed != (one.OpenEdges+one.Misoriented == 0) {
			t.Errorf("warned of %q, wanted %q", got, want)
		}
	}
}

// Words up to 64 letters are read, and told in which line; the break belongs to the next.
func TestWordsAtTheirEnd(t *testing.T) {
	t.Parallel()
	tri := func(x string) string {
		return "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex " + x + " 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid a\n"
	}
	if s, err := ReadSTL(strings.NewReader(tri("1."+strings.Repeat("0", 62))), Options{}); err != nil || math.Abs(s.Area-0.5e-6) > 1e-18 || s.Facets != 1 {
		t.Errorf("64 digits: %+v, %v", s, err)
	}
	for _, c := range []struct{ text, said string }{
		{tri("1." + strings.Repeat("0", 63)), "line 5"}, {tri("1,5"), "line 5"}, {tri("nothing"), "no number"}, {strings.Replace(tri("1"), "outer", "inner", 1), "line 3"}, {strings.Replace(tri("1"), "0 0 1\nouter", "0 x 1\nouter", 1), "normal"},
		{strings.Replace(tri("1"), "endsolid a\n", "", 1), "endsolid"}, {strings.Replace(tri("1"), "endloop", "endless", 1), "line 7"},
	} {
		if _, err := ReadSTL(strings.NewReader(c.text), Options{}); err == nil || !strings.Contains(err.Error(), c.said) {
			t.Errorf("%.40q: %v", c.text, err)
		}
	}
	if s, err := ReadSTL(strings.NewReader(tri("1e400")), Options{}); refused(err) != NotFinite {
		t.Errorf("beyond a double: %+v, %v", s, err)
	}
	if s, err := ReadSTL(strings.NewReader(strings.Replace(tri("1"), "0 0 1\n", "nan nan nan\n", 1)), Options{}); err != nil || s.Facets != 1 {
		t.Errorf("a normal that is none: %+v, %v", s, err)
	}
}

// Matrices in the order 3MF writes them: twelve numbers of at most a million, that flatten nothing; one after the other is
// what both do.
func TestMatrices(t *testing.T) {
	t.Parallel()
	for text, said := range map[string]string{
		"": "", "1 0 0 0 1 0 0 0 1 5 6 7": "", "1000000 0 0 0 1 0 0 0 1 0 0 -1000000": "", "1000001 0 0 0 1 0 0 0 1 0 0 0": "within", "1 0 0 0 1 0 0 0 1 0 0": "11 numbers", "1 0 0 0 1 0 0 0 1 0 0 0 0": "13 numbers",
		"1 0 0 0 1 0 0 0 0 0 0 0": "flattens", "x 0 0 0 1 0 0 0 1 0 0 0": "no number", "nan 0 0 0 1 0 0 0 1 0 0 0": "no number",
	} {
		if _, why := parseTransform(text); (why == "") != (said == "") || !strings.Contains(why, said) {
			t.Errorf("%q: %q", text, why)
		}
	}
	a, _ := parseTransform("1 2 0 0 3 1 2 0 1 5 6 7")
	b, _ := parseTransform("0 1 0 -1 0 0 0 0 2 1 2 3")
	p := point{0.5, -2, 4}
	if got, want := a.then(b).apply(p), b.apply(a.apply(p)); got.minus(want).norm() > 1e-12 {
		t.Errorf("one after the other %v, wanted %v", got, want)
	}
	if got, want := a.apply(p), (point{0.5*1 + 4*2 + 5, 0.5*2 - 2*3 + 6, -2*1 + 4*1 + 7}); got != want {
		t.Errorf("by hand %v, wanted %v", want, got)
	}
	if d := a.determinant(); math.Abs(d-(1*(3*1-1*0)-2*(0*1-1*2)+0)) > 1e-12 {
		t.Errorf("determinant %g", d)
	}
	if d := uniform(2).determinant(); d != 8 {
		t.Errorf("twice as large: %g times the volume", d)
	}
}

// A facet is one of no area from a billionth of its longest side on; sums lose nothing to what is larger.
func TestSlivers(t *testing.T) {
	t.Parallel()
	for height, flat := range map[float64]int{0: 1, 0.9e-9: 1, 1.1e-9: 0, 1: 0} {
		for _, order := range [][3]int{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}} {
			p := [3]point{{0, 0, 0}, {1, 0, 0}, {0.5, height, 0}}
			var g geometry
			g.add(p[order[0]], p[order[1]], p[order[2]])
			if g.degenerate != flat || math.Abs(g.area.total()-height) > 1e-20+1e-15*height {
				t.Errorf("a height of %g: %d flat, twice the area %g", height, g.degenerate, g.area.total())
			}
		}
	}
	for _, all := range [][]float64{{1, 1e100, 1, -1e100}, {1e100, 1, -1e100, 1}, {-1, -1e100, -1, 1e100}} {
		var s sum
		for _, v := range all {
			s.add(v)
		}
		if math.Abs(s.total()) != 2 {
			t.Errorf("%v add up to %g", all, s.total())
		}
	}
}

// Names of parts: escaped letters are read where two digits follow, case and a leading stroke do not count.
func TestNamesOfParts(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{
		"a": "a", "/A/b": "a/b", "a%41b": "aab", "a%41": "aa", "a%4": "a%4", "a%": "a%", "%": "%", "%zz": "%zz", "%2fx": "x", "a/../B": "b", "3D/%334d.model": "3d/34d.model", "": "",
	} {
		if got := partName(name); got != want {
			t.Errorf("%q is called %q, wanted %q", name, got, want)
		}
	}
}
