package recipe

// The way a search takes, told by what it asks: how often curves are asked and where, which recipes it meets, what
// is left where its nodes are spent. It shows what no answer shows.

import (
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

// asked counts how often a curve is asked, and adds up where.
type asked struct {
	values, slopes, parts int
	where                 float64
}

func (a *asked) note(x []float64) {
	for i, v := range x {
		a.where += v * math.Sqrt(float64(i+1)) * float64(1+(a.values+a.parts)%17)
	}
}

// watched makes every curve of a problem count.
func watched(p *Problem) *asked {
	a := &asked{}
	for k := range p.Curves {
		c := &p.Curves[k]
		value, differences := c.Value, c.Differences
		c.Value = func(x, slope []float64) float64 {
			if a.values++; slope != nil {
				a.slopes++
			}
			a.note(x)
			return value(x, slope)
		}
		if differences != nil {
			c.Differences = func(x, part []float64, slope [][]float64) {
				a.parts++
				a.note(x)
				differences(x, part, slope)
			}
		}
	}
	return a
}

// Numbers say nothing by themselves: fewer for the same cost is better, and is kept by -run AsApproved -update.
func TestPathsAreAsApproved(t *testing.T) {
	t.Parallel()
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round the last digit otherwise and may take another way")
	}
	var out strings.Builder
	told := func(name string, p Problem, o Options) {
		a := watched(&p)
		if err := p.check(); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := o.fill(p); err != nil {
			t.Fatal(err)
		}
		tk := newTask(t.Context(), &p, o)
		got, err := tk.answer()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		fmt.Fprintf(&out, "%s nodes %d pivots %d bound %.9g %t values %d slopes %d parts %d where %.9g", name, tk.nodes, tk.pivots, got.Bound, got.Proved, a.values, a.slopes, a.parts, a.where)
		met := 0.0
		for k, r := range tk.seen {
			met += float64(k+1) * r.Cost
		}
		fmt.Fprintf(&out, " met %d %.9g", len(tk.seen), met)
		for _, r := range got.Recipes {
			use := 0.0
			for _, u := range r.Uses {
				use += (u.Mass + 0.01*u.Price) * math.Sqrt(float64(u.Lot+1))
			}
			fmt.Fprintf(&out, " recipe %.9g %.9g %.9g", r.Cost, use, r.PerKG)
		}
		if c := got.Conflict; c != nil {
			fmt.Fprintf(&out, " conflict %+v", *c)
		}
		if n := got.Nearest; n != nil {
			fmt.Fprintf(&out, " nearest %.9g %.9g %.9g", n.Mass, n.Over, n.Curves)
		}
		out.WriteByte('\n')
	}
	rng := rand.New(rand.NewPCG(61, 3))
	for k := range 6 { // colours, with and without steps, costs of their own, near enough or not
		p, _ := hidden(rng, 12+4*k)
		c := &p.Curves[0]
		c.Limit, c.Weight = []float64{4, 1, 8, 0.3, 2, 6}[k], []float64{0, 2, 0.5, 0, 0, 1}[k]
		p.Most = []int{3, 4, 0, 2, 1, 5}[k]
		if k%2 == 1 {
			eachLot(func(l *Lot) { l.Step = 0.01 })(&p)
		}
		told(fmt.Sprint("colour ", k), p, Options{Recipes: 1 + k%3, Nodes: 50, Near: []float64{0, 0.05, 0, 0.2, 0, 0}[k]})
	}
	for k := range 4 { // a colour and a disc beside it, over more lots than are searched at once
		p, _ := hidden(rng, 70+10*k)
		x, y := make([]float64, len(p.Lots)), make([]float64, len(p.Lots))
		for i := range x {
			x[i], y[i] = 10*rng.Float64(), 10*rng.Float64()
		}
		p.Curves = append(p.Curves, Curve{Value: squaredDistance(x, y, 5, 5, 1), Limit: []float64{3, 1, 9, 0.5}[k], Convex: true, Weight: float64(k % 2)})
		p.Curves[0].Limit, p.Most = []float64{4, 2, 6, 1}[k], []int{3, 4, 0, 2}[k]
		told(fmt.Sprint("many colours ", k), p, Options{Recipes: 1 + k%2, Nodes: 20})
	}
	for k := range 8 { // discs, convex; some out of reach
		n := 6 + 3*k
		p := Problem{Mass: 2, Most: 1 + k%4, Slack: []float64{0, 0.1}[k%2]}
		x, y := make([]float64, n), make([]float64, n)
		for i := range n {
			p.Lots = append(p.Lots, Lot{Cost: 1 + 9*rng.Float64(), Stock: 0.5 + rng.Float64(), Least: 0.1 * float64(rng.IntN(3)), Step: []float64{0, 0.05}[k/2%2]})
			x[i], y[i] = 10*rng.Float64(), 10*rng.Float64()
		}
		p.Lots[k%n].Must = []float64{0, 0.2, 0}[k%3]
		p.Curves = []Curve{{Value: squaredDistance(x, y, 5, 5, 2), Limit: []float64{1, 3, 0.2}[k%3], Convex: true, Weight: float64(k % 2)}}
		told(fmt.Sprint("disc ", k), p, Options{Recipes: 3, Nodes: 60, Gap: []float64{0, 0.01}[k%2]})
	}
	for k := range 6 { // stocks of 300 to 350 g that never make the mass, and a limit that only the dear ones keep: questions run out of nodes
		p := Problem{Mass: []float64{1.1, 1.48, 1.1, 1.45, 1.12, 1.47}[k], Most: []int{0, 6, 5, 0, 4, 0}[k]}
		of := make([]float64, 9+k)
		for i := range of {
			p.Lots = append(p.Lots, Lot{Cost: 1 + 9*rng.Float64(), Stock: 0.34 + 0.01*rng.Float64(), Least: 0.3 - 0.01*rng.Float64()*float64(k%2)})
			of[i] = rng.Float64()
		}
		p.Limits = []Limit{{Of: of, Lo: math.Inf(-1), Hi: []float64{0.4, 0.5, 1, 0.3, 0.6, 0.45}[k]}}
		told(fmt.Sprint("never whole ", k), p, Options{Nodes: 3000})
	}
	for k := range 6 { // scoops of many sizes, musts, and an exact mass
		p := Problem{Mass: 1, Slack: []float64{0, 0.005}[k%2], Most: 2 + k%3}
		of := make([]float64, 8)
		for i := range of {
			step := []float64{0.03, 0.05, 0.07, 0.11, 0}[rng.IntN(4+k%2)]
			p.Lots = append(p.Lots, Lot{Cost: 1 + 9*rng.Float64(), Stock: 0.2 + 0.6*rng.Float64(), Step: step, Least: 0.1 * rng.Float64()})
			of[i] = rng.Float64()
		}
		p.Lots[0].Must = 0.1
		p.Limits = []Limit{{Of: of, Lo: 0.2, Hi: 0.35}}
		told(fmt.Sprint("scoops ", k), p, Options{Nodes: 400})
	}
	for k := range 5 { // over many lots, few of which may be used: exchanged
		p := plausible(rng, 70+30*k, 0.3+0.1*float64(k))
		p.Most = 1 + k
		told(fmt.Sprint("exchanged ", k), p, Options{Recipes: 2, Nodes: 60})
	}
	checkrow.ApprovedText(t, "paths", out.String())
}
