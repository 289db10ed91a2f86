package colour

import (
	"math/rand/v2"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
)

func one(v float64, err error) ([]float64, error) { return []float64{v}, err }

func lab3(p Lab, err error) ([]float64, error) { return []float64{p.L, p.A, p.B}, err }

func xyz3(v XYZ, err error) ([]float64, error) { return []float64{v.X, v.Y, v.Z}, err }

func rgb3(c RGB) []float64 { return []float64{255 * c.R, 255 * c.G, 255 * c.B} }

func rowLab(v []float64) Lab { return Lab{v[0], v[1], v[2]} }

func rowXYZ(v []float64) XYZ { return XYZ{v[0], v[1], v[2]} }

func rowCurve(in checkrow.Inputs) (Curve, error) {
	if in.Has("flat") {
		return Flat(in.Num("flat"))
	}
	return Curve(in.List("curve")), nil
}

func at3(c Curve) []float64 { return []float64{c[7], c[17], c[27]} }

// rowBodies are two flat bodies, and the share of the first and the rest.
func rowBodies(in checkrow.Inputs) (bodies []Body, shares []float64, err error) {
	if in.Has("r") {
		for _, r := range in.List("r") {
			c, err := Flat(r)
			if err != nil {
				return nil, nil, err
			}
			b, err := BodyOf(c, 1, Surface{})
			if err != nil {
				return nil, nil, err
			}
			bodies = append(bodies, b)
		}
	} else {
		for i, k := range in.List("K") {
			bodies = append(bodies, flatBody(k, in.List("S")[i]))
		}
	}
	rest := 1 - in.Num("share")
	if in.Has("rest") {
		rest = in.Num("rest")
	}
	return bodies, []float64{in.Num("share"), rest}, nil
}

func flatBody(k, s float64) (b Body) {
	for i := range b.K {
		b.K[i], b.S[i] = k, s
	}
	return b
}

// rowPair are the two screen colours of a row as curves.
func rowPair(in checkrow.Inputs) (curves []Curve, shares []float64, err error) {
	for _, name := range []string{"a", "b"} {
		rgb, err := ParseHex(in.Word(name))
		if err != nil {
			return nil, nil, err
		}
		c, err := FromScreen(rgb)
		if err != nil {
			return nil, nil, err
		}
		curves = append(curves, c)
	}
	return curves, []float64{in.Num("share"), 1 - in.Num("share")}, nil
}

// rowEnds are both ends of a pair on the screen, and how far they are apart.
func rowEnds(in checkrow.Inputs, s Surface) (well, side []float64, apart float64, err error) {
	curves, shares, err := rowPair(in)
	if err != nil {
		return nil, nil, 0, err
	}
	var bodies []Body
	for _, c := range curves {
		b, err := BodyOf(c, 1, s)
		if err != nil {
			return nil, nil, 0, err
		}
		bodies = append(bodies, b)
	}
	m, err := Mixed(bodies, shares, s)
	if err != nil {
		return nil, nil, 0, err
	}
	u, err := Unmixed(curves, shares)
	if err != nil {
		return nil, nil, 0, err
	}
	lookM, err := LookOf(m)
	if err != nil {
		return nil, nil, 0, err
	}
	lookU, err := LookOf(u)
	if err != nil {
		return nil, nil, 0, err
	}
	apart, err = Difference(lookM.Lab, lookU.Lab)
	return rgb3(lookM.Screen), rgb3(lookU.Screen), apart, err
}

func rowSurface(in checkrow.Inputs) Surface {
	return Surface{in.Num("k1"), in.Num("k2"), in.Num("gloss") == 1}
}

func hexCurve(in checkrow.Inputs) (Curve, error) {
	rgb, err := ParseHex(in.Word("hex"))
	if err != nil {
		return Curve{}, err
	}
	return FromScreen(rgb)
}

var seenRows = map[string]checkrow.Func{
	"White": func(in checkrow.Inputs) ([]float64, error) {
		w, err := White(Observer(in.Num("observer")))
		sum := w.X + w.Y + w.Z
		return []float64{w.X / sum, w.Y / sum}, err
	},
	"Tristimulus": func(in checkrow.Inputs) ([]float64, error) {
		c, err := rowCurve(in)
		if err != nil {
			return nil, err
		}
		return xyz3(Tristimulus(c, Observer(in.Num("observer"))))
	},
	"LabOf": func(in checkrow.Inputs) ([]float64, error) {
		c, err := rowCurve(in)
		if err != nil {
			return nil, err
		}
		return lab3(LabOf(c, Observer(in.Num("observer"))))
	},
	"ToLab": func(in checkrow.Inputs) ([]float64, error) {
		return lab3(ToLab(rowXYZ(in.List("xyz")), rowXYZ(in.List("white"))))
	},
	"XYZOf": func(in checkrow.Inputs) ([]float64, error) {
		v, err := XYZOf(rowLab(in.List("lab")), ScreenWhite())
		if err != nil {
			return nil, err
		}
		return lab3(ToLab(v, ScreenWhite()))
	},
	"Difference": func(in checkrow.Inputs) ([]float64, error) {
		return one(Difference(rowLab(in.List("p")), rowLab(in.List("q"))))
	},
	"Name": func(in checkrow.Inputs) ([]float64, error) {
		rgb, err := ParseHex(in.Word("hex"))
		if err != nil {
			return nil, err
		}
		lab, err := ScreenLab(rgb)
		if err != nil {
			return nil, err
		}
		name, err := Name(lab)
		if !strings.Contains(name, in.Word("word")) {
			return []float64{0}, err
		}
		return []float64{1}, err
	},
}

var screenRows = map[string]checkrow.Func{
	"Linear": func(in checkrow.Inputs) ([]float64, error) { return one(Linear(in.Num("v"))) },
	"ScreenXYZ": func(in checkrow.Inputs) ([]float64, error) {
		rgb, err := ParseHex(in.Word("hex"))
		if err != nil {
			return nil, err
		}
		return xyz3(ScreenXYZ(rgb))
	},
	"ScreenLab": func(in checkrow.Inputs) ([]float64, error) {
		rgb, err := ParseHex(in.Word("hex"))
		if err != nil {
			return nil, err
		}
		return lab3(ScreenLab(rgb))
	},
	"ScreenOf": func(in checkrow.Inputs) ([]float64, error) {
		c, err := hexCurve(in)
		if err != nil {
			return nil, err
		}
		rgb, err := ScreenOf(c)
		return rgb3(rgb), err
	},
	"FromScreen": func(in checkrow.Inputs) ([]float64, error) {
		c, err := hexCurve(in)
		return at3(c), err
	},
	"FromLab": func(in checkrow.Inputs) ([]float64, error) {
		c, err := FromLab(rowLab(in.List("lab")))
		if err != nil {
			return nil, err
		}
		return lab3(LabOf(c, TwoDegrees))
	},
	"FromInstrument": func(in checkrow.Inputs) ([]float64, error) {
		o := Observer(in.Num("observer"))
		c, err := FromInstrument(rowLab(in.List("lab")), o)
		if err != nil {
			return nil, err
		}
		if in.Has("shown") { // to the other observer
			o = Observer(in.Num("shown"))
		}
		return lab3(LabOf(c, o))
	},
	"FromPhoto": func(in checkrow.Inputs) ([]float64, error) {
		rgb, err := ParseHex(in.Word("hex"))
		if err != nil {
			return nil, err
		}
		c, lifted, err := FromPhoto(rgb)
		return append(at3(c), float64(lifted)), err
	},
	"Resampled": func(in checkrow.Inputs) ([]float64, error) {
		var w, v []float64
		for i := range 22 {
			nm := 400 + in.Num("step")*float64(i)
			w, v = append(w, nm*1e-9), append(v, min(1, max(0, 0.2+0.6*(nm-400)/350)))
		}
		c, err := Resampled(w, v)
		return []float64{c[0], c[12], c[22]}, err
	},
}

var mixRows = map[string]checkrow.Func{
	"Aim": func(in checkrow.Inputs) ([]float64, error) {
		c, err := FromLab(rowLab(in.List("p")))
		if err != nil {
			return nil, err
		}
		b, err := BodyOf(c, in.Num("scatter"), PhotoSurface())
		if err != nil {
			return nil, err
		}
		a, err := NewAim([]Body{b, b}, rowLab(in.List("q")), PhotoSurface())
		if err != nil {
			return nil, err
		}
		return []float64{a.Far([]float64{0.4, 0.1}, nil)}, nil
	},
	"Ratio":       func(in checkrow.Inputs) ([]float64, error) { return one(Ratio(in.Num("r"))) },
	"Reflectance": func(in checkrow.Inputs) ([]float64, error) { return one(Reflectance(in.Num("ratio"))) },
	"Mixed": func(in checkrow.Inputs) ([]float64, error) {
		bodies, shares, err := rowBodies(in)
		if err != nil {
			return nil, err
		}
		c, err := Mixed(bodies, shares, Surface{})
		return []float64{c[20]}, err
	},
	"Unmixed": func(in checkrow.Inputs) ([]float64, error) {
		r := in.List("r")
		a, _ := Flat(r[0])
		b, _ := Flat(r[1])
		c, err := Unmixed([]Curve{a, b}, []float64{in.Num("share"), 1 - in.Num("share")})
		return []float64{c[20]}, err
	},
	"Ends": func(in checkrow.Inputs) ([]float64, error) {
		well, side, _, err := rowEnds(in, Surface{})
		return append(well, side...), err
	},
	"EndsBelow": func(in checkrow.Inputs) ([]float64, error) {
		well, _, _, err := rowEnds(in, PhotoSurface())
		return well, err
	},
	"EndsApart": func(in checkrow.Inputs) ([]float64, error) {
		_, _, apart, err := rowEnds(in, Surface{})
		return []float64{apart}, err
	},
	"Below": func(in checkrow.Inputs) ([]float64, error) { return one(Below(in.Num("r"), rowSurface(in))) },
	"Above": func(in checkrow.Inputs) ([]float64, error) {
		r, err := Above(in.Num("ri"), rowSurface(in))
		if err != nil {
			return nil, err
		}
		return one(Below(r, rowSurface(in)))
	},
}

var limitRows = map[string]checkrow.Func{
	"MostStray": func(in checkrow.Inputs) ([]float64, error) {
		white, black := flatBody(0.005, 1), flatBody(20, 1)
		if in.Has("same") {
			share, err := MostStray(white, white, in.Num("limit"), PhotoSurface())
			return []float64{share}, err
		}
		share, err := MostStray(white, black, in.Num("limit"), PhotoSurface())
		if err != nil {
			return nil, err
		}
		var labs []Lab
		for _, c := range []float64{0, share} {
			mix, err := Mixed([]Body{white, black}, []float64{1 - c, c}, PhotoSurface())
			if err != nil {
				return nil, err
			}
			lab, err := LabOf(mix, TwoDegrees)
			if err != nil {
				return nil, err
			}
			labs = append(labs, lab)
		}
		return one(Difference(labs[0], labs[1]))
	},
	"LearnScatter": func(in checkrow.Inputs) ([]float64, error) {
		blue, _ := ParseHex("#1e5aa8")
		curve, err := FromScreen(blue)
		if err != nil {
			return nil, err
		}
		body, err := BodyOf(curve, in.Num("scatter"), PhotoSurface())
		if err != nil {
			return nil, err
		}
		white := flatBody(0.005, 1)
		mix, err := Mixed([]Body{white, body}, []float64{0.8, 0.2}, PhotoSurface())
		if err != nil {
			return nil, err
		}
		seen, err := LabOf(mix, TwoDegrees)
		if err != nil {
			return nil, err
		}
		scatter, left, err := LearnScatter(white, curve, 0.2, seen, PhotoSurface())
		return []float64{scatter, left}, err
	},
	"ReachOf": func(in checkrow.Inputs) ([]float64, error) {
		white, black := flatBody(0.005, 1), flatBody(20, 4)
		look := func(share float64) (Lab, error) {
			mix, err := Mixed([]Body{white, black}, []float64{1 - share, share}, PhotoSurface())
			if err != nil {
				return Lab{}, err
			}
			return LabOf(mix, TwoDegrees)
		}
		wanted, err := look(in.Num("share"))
		if err != nil {
			return nil, err
		}
		if in.Has("wanted") {
			wanted = rowLab(in.List("wanted"))
		}
		r, err := ReachOf(white, black, wanted, in.Num("limit"), in.Num("most"), PhotoSurface())
		if err != nil {
			return nil, err
		}
		at, err := look(r.Least)
		if err != nil {
			return nil, err
		}
		far, err := Difference(wanted, at)
		if !r.Reached {
			return []float64{0}, err
		}
		return []float64{r.Share, r.Off, far}, err
	},
	"Outlook": func(in checkrow.Inputs) ([]float64, error) {
		white, _ := Flat(0.9)
		black, _ := Flat(0.05)
		h := Heap{Parts: []Scrap{{Colour: white, Scatter: 1, Share: 0.7}, {Colour: black, Scatter: 1, Share: 0.3}}, Counted: in.Num("counted"), Draws: int(in.Num("draws"))}
		o, err := Forecast(h, rand.New(rand.NewPCG(1, 2)))
		if err != nil || o.Mixed.Lab.L < o.Lightness.Low || o.Mixed.Lab.L > o.Lightness.High || o.Unmixed.Lab.L < o.Mixed.Lab.L {
			return []float64{0}, err
		}
		return []float64{1}, nil
	},
}

func TestChecks(t *testing.T) {
	t.Parallel()
	funcs := map[string]checkrow.Func{}
	for _, part := range []map[string]checkrow.Func{seenRows, screenRows, mixRows, limitRows} {
		for name, f := range part {
			funcs[name] = f
		}
	}
	checkrow.Run(t, "checks.csv", funcs)
}
