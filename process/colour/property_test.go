package colour

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hopperful/process"
)

func luckOf(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 7)) }

// anyCurve is a smooth curve that a plastic might have.
func anyCurve(luck *rand.Rand) Curve {
	var c Curve
	a, b, w := 0.02+0.4*luck.Float64(), 0.5*luck.Float64(), 20+60*luck.Float64()
	mid := 400 + 300*luck.Float64()
	for i := range c {
		d := (Wavelength(i)*1e9 - mid) / w
		c[i] = a + b*math.Exp(-d*d)
	}
	return c
}

func anyBodies(t *testing.T, luck *rand.Rand, n int) (bodies []Body, curves []Curve, shares []float64) {
	t.Helper()
	sum := 0.0
	for range n {
		c := anyCurve(luck)
		b, err := BodyOf(c, math.Exp(4*luck.Float64()-2), PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		share := luck.ExpFloat64()
		bodies, curves, shares, sum = append(bodies, b), append(curves, c), append(shares, share), sum+share
	}
	for i := range shares {
		shares[i] /= sum
	}
	return bodies, curves, shares
}

// A mix is the same whatever goes in first, also by way of a mix of a part of
// it, and lies between its parts in every band.
func TestMixingIsFreeOfOrderAndBounded(t *testing.T) {
	t.Parallel()
	luck := luckOf(1)
	for range 200 {
		n := 2 + luck.IntN(6)
		bodies, curves, shares := anyBodies(t, luck, n)
		mix, err := Mixed(bodies, shares, PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		side, err := Unmixed(curves, shares)
		if err != nil {
			t.Fatal(err)
		}
		order := luck.Perm(n)
		var b2 []Body
		var s2 []float64
		for _, i := range order {
			b2, s2 = append(b2, bodies[i]), append(s2, shares[i])
		}
		again, err := Mixed(b2, s2, PhotoSurface())
		if err != nil {
			t.Fatal(err)
		}
		for j := range mix {
			if math.Abs(mix[j]-again[j]) > 1e-12 {
				t.Fatalf("band %d: %g in one order, %g in another", j, mix[j], again[j])
			}
			lo, hi := 1.0, 0.0
			for _, c := range curves {
				lo, hi = min(lo, c[j]), max(hi, c[j])
			}
			if mix[j] < lo-1e-9 || mix[j] > hi+1e-9 || side[j] < lo-1e-9 || side[j] > hi+1e-9 {
				t.Fatalf("band %d: mixed %g and unmixed %g leave %g to %g", j, mix[j], side[j], lo, hi)
			}
		}
	}
}

// With one scattering for all, the mix never sends back more than the mean
// light: (1 − R)²/(2R) is convex.
func TestMixedIsNeverLighterThanUnmixed(t *testing.T) {
	t.Parallel()
	luck := luckOf(2)
	for range 200 {
		a, b, share := anyCurve(luck), anyCurve(luck), luck.Float64()
		ba, _ := BodyOf(a, 1, Surface{})
		bb, _ := BodyOf(b, 1, Surface{})
		well, err := Mixed([]Body{ba, bb}, []float64{share, 1 - share}, Surface{})
		if err != nil {
			t.Fatal(err)
		}
		side, _ := Unmixed([]Curve{a, b}, []float64{share, 1 - share})
		for j := range well {
			if well[j] > side[j]+1e-12 {
				t.Fatalf("band %d: mixed %g above unmixed %g", j, well[j], side[j])
			}
		}
	}
}

func TestEveryScreenColourHasACurve(t *testing.T) {
	t.Parallel()
	var all []RGB
	for i := range 6 * 6 * 6 {
		all = append(all, RGB{float64(i/36) / 5, float64(i/6%6) / 5, float64(i%6) / 5})
	}
	for i := range 3 * 3 * 3 { // the corners of black and white, where a curve has least room
		dark := RGB{float64(i/9) / 255, float64(i/3%3) / 255, float64(i%3) / 255}
		all = append(all, dark, RGB{1 - dark.R, 1 - dark.G, 1 - dark.B})
	}
	for _, want := range all {
		c, err := FromScreen(want)
		if err != nil {
			t.Fatalf("%v: %v", want, err)
		}
		got, err := ScreenOf(c)
		if err != nil {
			t.Fatal(err)
		}
		if off := max(math.Abs(got.R-want.R), math.Abs(got.G-want.G), math.Abs(got.B-want.B)); off > 1e-6 && want != (RGB{}) {
			t.Errorf("%v came back as %v", want, got)
		}
	}
}

// Numbers of a colour that is none must be refused, never a panic or no number.
func TestLabsGiveACurveOrARefusal(t *testing.T) {
	t.Parallel()
	luck := luckOf(3)
	made, refused := 0, 0
	for range 400 {
		p := Lab{100 * luck.Float64(), 400*luck.Float64() - 200, 400*luck.Float64() - 200}
		c, err := FromLab(p)
		var no *GuessError
		if errors.As(err, &no) {
			refused++
			if !strings.Contains(err.Error(), "no surface") {
				t.Errorf("%v", err)
			}
			continue
		}
		if err != nil {
			t.Fatalf("%v: %v", p, err)
		}
		made++
		got, err := LabOf(c, TwoDegrees)
		if err != nil {
			t.Fatal(err)
		}
		if d := difference(p, got); d > 0.02 {
			t.Errorf("%v came back as %v, %g apart", p, got, d)
		}
	}
	if made < 40 || refused < 40 {
		t.Errorf("%d curves and %d refusals out of 400: too few of either to tell", made, refused)
	}
}

func TestDifferenceIsSymmetric(t *testing.T) {
	t.Parallel()
	luck := luckOf(4)
	any3 := func() Lab { return Lab{100 * luck.Float64(), 160*luck.Float64() - 80, 160*luck.Float64() - 80} }
	for range 500 {
		p, q := any3(), any3()
		a, err := Difference(p, q)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := Difference(q, p)
		if math.Abs(a-b) > 1e-9 || !(a > 0) {
			t.Errorf("%v and %v: %g one way, %g the other", p, q, a, b)
		}
		if self, _ := Difference(p, p); self != 0 {
			t.Errorf("%v is %g from itself", p, self)
		}
	}
}

func TestEveryColourHasAName(t *testing.T) {
	t.Parallel()
	luck := luckOf(5)
	for range 2000 {
		p := Lab{100 * luck.Float64(), 240*luck.Float64() - 120, 240*luck.Float64() - 120}
		if name, err := Name(p); err != nil || name == "" || strings.HasSuffix(name, " ") {
			t.Fatalf("%v is called %q, %v", p, name, err)
		}
	}
}

// The drawn shares have the mean and the spread of the Dirichlet distribution:
// variance c (1 − c)/(N + 1).
func TestDrawnSharesSpreadAsCounted(t *testing.T) {
	t.Parallel()
	luck := luckOf(6)
	shares, counted := []float64{0.5, 0.3, 0.2, 0}, 20.0
	const n = 20000
	var sum, square [4]float64
	drawn := make([]float64, 4)
	for range n {
		drawShares(drawn, shares, counted, luck)
		total := 0.0
		for i, c := range drawn {
			sum[i] += c
			square[i] += c * c
			total += c
		}
		if math.Abs(total-1) > 1e-12 || drawn[3] != 0 {
			t.Fatalf("drew %v", drawn)
		}
	}
	for i, c := range shares[:3] {
		mean := sum[i] / n
		variance := square[i]/n - mean*mean
		if want := c * (1 - c) / (counted + 1); math.Abs(mean-c) > 0.004 || math.Abs(variance-want) > 0.06*want {
			t.Errorf("share %g: mean %g, variance %g, wanted %g", c, mean, variance, want)
		}
	}
}

func TestForecastNarrowsWithCountingAndRepeats(t *testing.T) {
	t.Parallel()
	luck := luckOf(7)
	var parts []Scrap
	for _, s := range []float64{0.4, 0.35, 0.25} {
		parts = append(parts, Scrap{Colour: anyCurve(luck), Scatter: 1, Share: s})
	}
	look := func(counted float64) Outlook {
		o, err := Forecast(Heap{Parts: parts, Surface: PhotoSurface(), Counted: counted, Draws: 500}, luckOf(8))
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	rough, sure := look(8), look(800)
	if !(sure.Spread < rough.Spread/3) {
		t.Errorf("spread %g after a look, %g after counting", rough.Spread, sure.Spread)
	}
	if again := look(8); again.Spread != rough.Spread || again.Lightness != rough.Lightness {
		t.Error("the same seed gave another forecast")
	}
	total := 0.0
	for _, n := range rough.Names {
		total += n.Share
	}
	if math.Abs(total-1) > 1e-9 || !slices.IsSortedFunc(rough.Names, func(a, b NamedShare) int { return int(math.Round(1e6 * (b.Share - a.Share))) }) {
		t.Errorf("names %v", rough.Names)
	}
}

func TestNonsenseIsRefused(t *testing.T) {
	t.Parallel()
	grey, _ := Flat(0.3)
	hollow := grey
	hollow[4] = math.NaN()
	dark, _ := Flat(0)
	body := flatBody(1, 1)
	calls := map[string]error{}
	_, calls["a curve of no number"] = Tristimulus(hollow, TwoDegrees)
	_, calls["more than all light"] = Flat(1.1)
	_, calls["no light at all"] = BodyOf(dark, 1, Surface{})
	_, calls["no scattering"] = BodyOf(grey, 0, Surface{})
	_, calls["a surface of glass"] = BodyOf(grey, 1, Surface{Outside: 0.5})
	_, calls["nothing mixed"] = Mixed(nil, nil, Surface{})
	_, calls["a share too many"] = Mixed([]Body{body}, []float64{0.5, 0.5}, Surface{})
	_, calls["a body of nothing"] = Mixed([]Body{{}}, []float64{1}, Surface{})
	_, calls["less than none"] = Unmixed([]Curve{grey, grey}, []float64{-1, 2})
	_, calls["no limit"] = MostStray(body, body, 0, Surface{})
	_, _, calls["no share"] = LearnScatter(body, grey, 0, Lab{L: 50}, Surface{})
	_, calls["no part of a colour"] = ScreenXYZ(RGB{R: 1.2})
	_, calls["no pieces"] = Forecast(Heap{Draws: 100}, luckOf(1))
	_, calls["no heap"] = Forecast(Heap{Draws: 100, Counted: 10}, luckOf(1))
	_, calls["no word"] = Name(Lab{L: math.Inf(1)})
	_, calls["one band"] = Resampled([]float64{500e-9}, []float64{0.5})
	for what, err := range calls {
		var r *process.RangeError
		if !errors.As(err, &r) {
			t.Errorf("%s gave %v", what, err)
		}
	}
	for _, text := range []string{"", "c0402a", "#c0402", "#c0402aa", "#c0402g", "#+0402a", strings.Repeat("#", 5000)} {
		_, err := ParseHex(text)
		var no *CodeError
		if !errors.As(err, &no) || len(err.Error()) > 200 {
			t.Errorf("%.20q gave %v", text, err)
		}
	}
}

func TestHexSaysWhenAScreenCannotShowIt(t *testing.T) {
	t.Parallel()
	if code, exact := (RGB{1.2, 0.5, -0.1}).Hex(); code != "#ff8000" || exact {
		t.Errorf("got %s, exact %v", code, exact)
	}
	if code, exact := (RGB{192. / 255, 64. / 255, 42. / 255}).Hex(); code != "#c0402a" || !exact {
		t.Errorf("got %s, exact %v", code, exact)
	}
}

func BenchmarkMix20(b *testing.B) {
	luck := luckOf(9)
	var bodies []Body
	var shares []float64
	for range 20 {
		body, _ := BodyOf(anyCurve(luck), 1, PhotoSurface())
		bodies, shares = append(bodies, body), append(shares, 0.05)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Mixed(bodies, shares, PhotoSurface()); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFromScreen(b *testing.B) {
	red, _ := ParseHex("#c0402a")
	for b.Loop() {
		if _, err := FromScreen(red); err != nil {
			b.Fatal(err)
		}
	}
}

// An L*a*b* read for ten degrees is turned into a colour for two: nearer to the
// truth than the numbers taken as they stand, and near it for most curves.
func TestTenDegreesAreTurnedIntoTwo(t *testing.T) {
	t.Parallel()
	luck := luckOf(12)
	turned, taken := 0.0, 0.0
	for range 300 {
		c := anyCurve(luck)
		truth, err := LabOf(c, TwoDegrees)
		if err != nil {
			t.Fatal(err)
		}
		read, err := LabOf(c, TenDegrees)
		if err != nil {
			t.Fatal(err)
		}
		guessed, err := FromInstrument(read, TenDegrees)
		if err != nil {
			t.Fatalf("%+v: %v", read, err)
		}
		lab, err := LabOf(guessed, TwoDegrees)
		if err != nil {
			t.Fatal(err)
		}
		turned, taken = turned+difference(truth, lab), taken+difference(truth, read)
	}
	if turned > taken/2 || turned/300 > 1 {
		t.Errorf("turned they are %.2f off, as they stand %.2f", turned/300, taken/300)
	}
}
