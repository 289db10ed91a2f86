package breakage

// Rows about the balance: each function builds the mill a row describes.

import (
	"math"

	"hopperful/internal/checkrow"
)

var balanceRows = map[string]checkrow.Func{
	"NewGrid": func(in checkrow.Inputs) ([]float64, error) {
		g, err := NewGrid(in.Num("largest"))
		if err != nil {
			return nil, err
		}
		return []float64{float64(g.Classes()), g.Upper(0), g.Upper(1), g.Upper(g.Classes() - 1)}, nil
	},
	"SpecificRate": func(in checkrow.Inputs) ([]float64, error) {
		k := brittle
		k.RotorSize, k.RotorExponent = in.Num("mu"), in.Num("lambda")
		return one(SpecificRate(k, in.Num("x")))
	},
	"Debris": func(in checkrow.Inputs) ([]float64, error) {
		k := brittle
		k.Phi, k.Gamma, k.Beta = in.Num("phi"), in.Num("gamma"), in.Num("beta")
		b, err := Debris(in.List("upper"), k.finer)
		return column(b, 0), err
	},
	"Linear": func(in checkrow.Inputs) ([]float64, error) {
		l := Linear{Break: in.List("S")}
		for flat := in.List("b"); len(flat) > 0; flat = flat[len(l.Break):] {
			l.Debris = append(l.Debris, flat[:len(l.Break)])
		}
		if in.Has("D") {
			l.Leave = in.List("D")
		}
		w, passed := in.List("w"), make([]float64, len(l.Break))
		err := l.Advance(w, passed, in.Num("t"))
		if in.Has("D") {
			w = append(w, passed...)
		}
		return w, err
	},
	"SixClasses": func(in checkrow.Inputs) ([]float64, error) {
		k := Kernel{Rate: 1, RotorSize: 1, Phi: 0.6, Gamma: 0.8, Beta: 4}
		l, err := ladder(k.finer, func(i int) float64 { return 0.5 * root2(-i) })
		if err != nil {
			return nil, err
		}
		w := in.List("w")
		return w, l.Advance(w, make([]float64, 6), in.Num("t"))
	},
	"Compensated": func(in checkrow.Inputs) ([]float64, error) {
		l, err := compensated()
		if err != nil {
			return nil, err
		}
		w := in.List("w")
		return w, l.Advance(w, make([]float64, 6), 3)
	},
	"RandomBreakage": func(in checkrow.Inputs) ([]float64, error) {
		return one(random(int(in.Num("classes")), in.Num("t"), even))
	},
	"RandomSquare": func(in checkrow.Inputs) ([]float64, error) {
		return one(random(int(in.Num("classes")), in.Num("t"), square))
	},
	"RandomDensity":     randomDensity,
	"RandomExponential": randomExponential,
	"Mill": func(in checkrow.Inputs) ([]float64, error) {
		m, c, err := millRow(in, 1e-8)
		if err != nil {
			return nil, err
		}
		t := in.Num("t")
		course := &Course{Time: []float64{t / 10, t / 2, t}, Held: make([]float64, 3), Passed: make([]float64, 3), Energy: make([]float64, 3)}
		err = m.Run(c, t, course)
		var got []float64
		for k := range 3 {
			got = append(got, course.Held[k], course.Passed[k], course.Energy[k])
		}
		return got, err
	},
	"MillPassed": func(in checkrow.Inputs) ([]float64, error) {
		m, c, err := millRow(in, in.Num("tolerance"))
		if err != nil {
			return nil, err
		}
		err = m.Run(c, in.Num("t"), nil)
		return c.Passed[int(in.Num("from")):], err
	},
}

// finer is the debris law as a function of size and parent.
func (k Kernel) finer(x, y float64) float64 {
	b, err := DebrisFiner(k, x, y)
	if err != nil {
		return math.NaN()
	}
	return b
}

func root2(i int) float64 { return math.Exp2(float64(i) / 2) }

func column(b [][]float64, j int) []float64 {
	var c []float64
	for _, row := range b {
		c = append(c, row[j])
	}
	return c
}

// ladder is six classes from 4 (mm) down in steps of √2, the last a sink.
func ladder(finer func(x, y float64) float64, rate func(i int) float64) (Linear, error) {
	upper := make([]float64, 6)
	for i := range upper {
		upper[i] = 4 * root2(-i)
	}
	l := Linear{Break: make([]float64, 6)}
	for i := range 5 {
		l.Break[i] = rate(i)
	}
	var err error
	l.Debris, err = Debris(upper, finer)
	return l, err
}

// compensated is a ladder with S B = K x^α: K 0.25, α 1.3, x the lower edge.
func compensated() (Linear, error) {
	return ladder(func(x, y float64) float64 { return math.Pow(x/y, 1.3) },
		func(i int) float64 { return 0.25 * math.Pow(4*root2(-i-1), 1.3) })
}

// random is the mass finer than 0.5 of random binary breakage at time t.
func random(classes int, t float64, rate func(y, lower float64) float64) (float64, error) {
	w, err := randomMasses(classes, t, rate)
	if err != nil {
		return 0, err
	}
	return sum(w[1+classes/2:]), nil
}

// randomMasses is random binary breakage of particles of volume 1 on an even
// grid: the class masses at time t. The unbroken are a class of their own on top.
func randomMasses(classes int, t float64, rate func(y, lower float64) float64) ([]float64, error) {
	l, err := evenGrid(classes, 1, rate)
	if err != nil {
		return nil, err
	}
	w := make([]float64, classes+1)
	w[0] = 1
	return w, l.Advance(w, make([]float64, classes+1), t)
}

// evenGrid is random binary breakage on even classes of volume up to top, with
// one more class for particles of just that volume.
func evenGrid(classes int, top float64, rate func(y, lower float64) float64) (Linear, error) {
	upper := make([]float64, classes+1)
	l := Linear{Break: make([]float64, classes+1)}
	upper[0] = top * (1 + 1e-12)
	for i := 1; i <= classes; i++ {
		upper[i] = top * float64(classes+1-i) / float64(classes)
	}
	l.Break[0] = rate(top, top)
	for i := 1; i < classes; i++ {
		l.Break[i] = rate((upper[i]+upper[i+1])/2, upper[i+1])
	}
	var err error
	l.Debris, err = Debris(upper, func(x, y float64) float64 { return (x / y) * (x / y) })
	return l, err
}

// even is the rate out of a class for S = v: S(y) B(lower, y) at its middle y.
func even(y, lower float64) float64 { return lower * lower / y }

// square is the rate out of a class for S = v², exact at the lower edge.
func square(_, lower float64) float64 { return lower * lower }

// randomDensity is the number density at 0.25 and 0.5, each the mean of the two
// classes that meet there.
func randomDensity(in checkrow.Inputs) ([]float64, error) {
	classes := int(in.Num("classes"))
	w, err := randomMasses(classes, in.Num("t"), even)
	if err != nil {
		return nil, err
	}
	width := 1 / float64(classes)
	density := func(i int) float64 { return w[i] / width / (float64(classes-i)*width + width/2) }
	var c []float64
	for _, k := range []int{classes * 3 / 4, classes / 2} { // class k ends at the point, k + 1 begins
		c = append(c, (density(k)+density(k+1))/2)
	}
	return c, nil
}

// randomExponential is the mass finer than 1 from particles spread as e^−v.
func randomExponential(in checkrow.Inputs) ([]float64, error) {
	const classes, top = 320, 16
	rate := even
	if in.Num("square") == 1 {
		rate = square
	}
	l, err := evenGrid(classes, top, rate)
	if err != nil {
		return nil, err
	}
	coarser := func(v float64) float64 { return (1 + v) * math.Exp(-v) }
	w := make([]float64, classes+1)
	for i := 1; i <= classes; i++ {
		lower := top * float64(classes-i) / classes
		w[i] = coarser(lower) - coarser(lower+top/float64(classes))
	}
	err = l.Advance(w, make([]float64, classes+1), in.Num("t"))
	return []float64{sum(w[1+classes-classes/top:])}, err
}

func millRow(in checkrow.Inputs, tolerance float64) (*Mill, *Charge, error) {
	g, err := NewGrid(in.Num("largest"))
	if err != nil {
		return nil, nil, err
	}
	k := Kernel{in.Num("rate"), in.Num("alpha"), in.Num("mu"), in.Num("lambda"), in.Num("phi"), in.Num("gamma"), in.Num("beta")}
	m, err := NewMill(g, k, Screen{in.Num("hole"), in.Num("open"), in.Num("screen"), 0}, Power{in.Num("net"), in.Num("least")}, tolerance)
	if err != nil {
		return nil, nil, err
	}
	c := NewCharge(g)
	mass := in.List("mass")
	for k, i := range in.List("class") {
		c.Held[int(i)] = mass[k]
	}
	return m, c, nil
}
