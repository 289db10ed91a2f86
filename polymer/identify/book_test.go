package identify

import (
	"math"
	"strings"
	"testing"
)

func TestOwnChancesGoOnTop(t *testing.T) {
	t.Parallel()
	own, err := Books().With("own.csv", strings.NewReader(chancesHeader+"\nlimp70,PETG,40,,our water runs hot,you entered\n"))
	if err != nil {
		t.Fatal(err)
	}
	i, _ := own.index("PETG")
	if own.chances["limp70"][i] != 0.4 || Books().chances["limp70"][i] != 0.12 {
		t.Errorf("own %g, book %g", own.chances["limp70"][i], Books().chances["limp70"][i])
	}
}

func TestBadTablesNameTheLine(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"":                                   "EOF",
		"a,b,c,d,e,f\n":                      "own.csv:1: the first line must be test,candidate",
		"limp70,PLA,0,,,you entered\n":       "own.csv:2: column chance",
		"limp70,PLA,NaN,,,you entered\n":     "own.csv:2: column chance",
		"limp70,PLA,a lot,,,you entered\n":   `"a lot" is no number between 0.1 and 99.9`,
		"limp70,Wood,50,,,you entered\n":     `"Wood" is not listed`,
		"burns,PLA,50,,,you entered\n":       `"burns" is no test`,
		"floats,PLA,50,,,you entered\n":      `"floats" is no test with chances`,
		"limp70,PLA,50,hearsay,,published\n": `the source "hearsay" does not fit the mark "published"`,
		"limp70,PLA,50\n":                    "wrong number of fields",
		"limp70,PLA," + strings.Repeat("9", 500) + ",,,you entered\n": "longer than 400 bytes",
	} {
		if text != "" && !strings.HasPrefix(text, "a,b") {
			text = chancesHeader + "\n" + text
		}
		if _, err := Books().With("own.csv", strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.60q gave %v; wanted %q", text, err, want)
		}
	}
}

// Every mean lies inside what the table of materials says of the polymer, give
// or take two spreads.
func TestDensitiesAgreeWithTheTableOfMaterials(t *testing.T) {
	t.Parallel()
	for _, c := range Books().Candidates {
		if c.density.spread == 0 {
			continue
		}
		low, high := bookDensity(t, c.Polymer)
		if c.density.mean < low-2*c.density.spread || c.density.mean > high+2*c.density.spread {
			t.Errorf("%s: %g ± %g, the table of materials says %g to %g", c.Name, c.density.mean, c.density.spread, low, high)
		}
	}
}

// The liquid gets denser or lighter throughout as it gets stronger, and lighter
// as it warms; strength and density undo each other.
func TestLiquidsAreMonotone(t *testing.T) {
	t.Parallel()
	for _, l := range Liquids() {
		if l == Water {
			continue
		}
		lo, hi := l.Span()
		for _, T := range []float64{coldest, 293.15, warmest} {
			before, sign := 0.0, 0.0
			for i := range 101 {
				w := lo + (hi-lo)*float64(i)/100
				rho, err := Density(l, w, T)
				if err != nil {
					t.Fatal(err)
				}
				if i > 0 {
					step := math.Copysign(1, rho-before)
					if sign != 0 && step != sign {
						t.Fatalf("%s turns at %g, %g K", l, w, T)
					}
					sign = step
				}
				before = rho
				back, err := StrengthFor(l, rho, T)
				if err != nil || math.Abs(back-w) > 1e-9 {
					t.Fatalf("%s: %g came back as %g: %v", l, w, back, err)
				}
				if r, err := RecipeOf(l, math.Min(w, 0.95), T); err != nil || !(r.PerKelvin > 0) {
					t.Fatalf("%s at %g: falls by %g: %v", l, w, r.PerKelvin, err)
				}
			}
		}
	}
}

// Pure water is the same whichever liquid holds none.
func TestEmptyLiquidsAreWater(t *testing.T) {
	t.Parallel()
	for _, l := range []Liquid{Brine, Propanol, Chloride, Ethanol} {
		for _, T := range []float64{coldest, 293.15, 298.15, warmest} {
			want, err := WaterDensity(T)
			if err != nil {
				t.Fatal(err)
			}
			got, err := Density(l, 0, T)
			if err != nil || math.Abs(got-want) > 0.02 { // the two formulas of water agree to that
				t.Errorf("%s without any at %g K: %g, water %g: %v", l, T, got, want, err)
			}
		}
	}
}

func TestFindLiquidIsEasyOnCase(t *testing.T) {
	t.Parallel()
	if l, err := FindLiquid(" Brine "); err != nil || l != Brine {
		t.Errorf("got %q, %v", l, err)
	}
	if _, err := FindLiquid(strings.Repeat("é", 300)); err == nil || len(err.Error()) > 200 {
		t.Errorf("got %v", err)
	}
}

func TestParts(t *testing.T) {
	t.Parallel()
	p, floats, err := Books().Parts("PETG", "PP", 998)
	if err != nil || !floats || math.Abs(p.Wrong-0.98) > 1e-3 || math.Abs(p.Right-0.02) > 1e-3 {
		t.Errorf("PP in PETG: %+v, floats %v, %v", p, floats, err)
	}
	p, floats, err = Books().Parts("PP", "PETG", 998)
	if err != nil || floats || math.Abs(p.Wrong-0.98) > 1e-3 || math.Abs(p.Right-0.02) > 1e-3 {
		t.Errorf("PETG in PP: %+v, floats %v, %v", p, floats, err)
	}
	if _, _, err := Books().Parts("PP", "PETG", 0); err == nil {
		t.Error("a liquid without density was taken")
	}
}

func FuzzChances(f *testing.F) {
	f.Add(chancesHeader + "\nlimp70,PLA,50,,,you entered\n")
	f.Add(chancesHeader + "\nsnaps,other,0.1,judgement,,judgement\n")
	f.Add("\xff\"")
	f.Fuzz(func(t *testing.T, text string) {
		own, err := Books().With("own.csv", strings.NewReader(text))
		if err != nil {
			return
		}
		shares, err := own.Weigh(own.Prior(), []Finding{{Test: "limp70", Yes: true}, {Test: "snaps"}})
		if err != nil || own.fits(shares) != nil {
			t.Errorf("%v: %v", shares, err)
		}
	})
}

// Nothing is put on hot metal from one hundredth of PVC on.
func TestHotMetalAwaitsLittlePVC(t *testing.T) {
	t.Parallel()
	b := Books()
	for share, may := range map[float64]bool{0: true, 0.0099: true, 0.01: false, 0.0101: false, 0.5: false} {
		shares := make([]float64, len(b.Candidates))
		for i, c := range b.Candidates {
			if c.Polymer == "PVC" {
				shares[i] = share
				share = 0 // in one of its grades, if there are several
			}
		}
		if b.MayHeat(shares) != may {
			t.Errorf("with %v of each: may be heated %t", shares, !may)
		}
	}
}
