package sieve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// Stacks of chance, from coarse to fine, lossy and gained, with tares and without a charge: analysis, doubts and warnings, the
// laws and how well they follow, sizes, the mean of the surface and the coarse sample, a line each as approved.
func TestStacksOfChanceAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	luck := rand.New(rand.NewPCG(12, 5))
	for i := range 40 {
		n := 3 + luck.IntN(6)
		s := Stack{Allowance: []Allowance{{}, EN933}[i%2]}
		opening := 8e-3 * luck.Float64()
		form := []Form{Woven, PlateRound, PlateSquare}[i%3]
		for k := range n {
			s.Sieves = append(s.Sieves, Sieve{Opening: opening, Form: form})
			if opening /= 1.3 + luck.Float64(); k == 2 && i%7 == 0 {
				form = PlateRound
			}
		}
		for range 1 + i%2 {
			p, sum := Portion{}, 0.0
			for range n + 1 {
				m := math.Round(1e4*0.03*luck.Float64()*luck.Float64()) / 1e4
				row := Row{Mass: m}
				if i%5 == 1 {
					row = Row{Mass: m + 0.35, Tare: 0.35}
				}
				p.Rows, sum = append(p.Rows, row), sum+m
			}
			if i%4 != 3 {
				p.Charge = sum * (1 + 0.02*(luck.Float64()-0.5))
			}
			s.Portions = append(s.Portions, p)
		}
		a, err := Weigh(s)
		if err != nil {
			fmt.Fprintf(&out, "%d refused\n", i)
			continue
		}
		fmt.Fprintf(&out, "%d %s %.8g\n", i, checkrow.Whole(t, a), a.PassingIfLostAsDust()[0])
		fits, err := FitAll(a.Points(), Weighting{Equal: i%3 == 0, Grains: float64(i%2) * 300})
		if err == nil {
			v, judged := Judge(fits)
			fmt.Fprintf(&out, "  %d laws, %s %s %v %v", len(fits), v.Best.Law, strings.ReplaceAll(v.Word, " ", "_"), v.Alike, judged)
			for _, f := range fits {
				fmt.Fprintf(&out, " %.6g %.6g %.5g %.5g %.6g %.6g %d %d", f.Scale, f.Shape, f.ScaleError, f.ShapeError, f.RMS, f.Line, f.Used, f.Dropped)
			}
			fmt.Fprintln(&out)
		}
		d, err := a.Distribution(Bounds{})
		if err != nil {
			fmt.Fprintln(&out, "  no distribution")
			continue
		}
		r, worse := SauterRange(d)
		c, none := CoarseSample(a, Screen{Hole: 3e-3, Density: 1240})
		fmt.Fprintf(&out, "  %.8g %t %.8g %d %t\n", []float64{r.Value, r.Low, r.High}, worse == nil, c.Coarse, c.Long, none == nil)
		for _, q := range []float64{0.1, 0.5, 0.9} {
			x, err := d.Quantile(q)
			fmt.Fprintf(&out, "  %.8g %v\n", x, err)
		}
	}
	checkrow.ApprovedText(t, "stacks", strings.NewReplacer("[", "", "]", "").Replace(out.String()))
}
