package identification_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// emptyShop is a shop without a record.
func emptyShop(t *testing.T) *shop.State {
	t.Helper()
	s, err := shop.Fold(nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func identified(t *testing.T, s *shop.State, opt identification.Options) identification.Identification {
	t.Helper()
	out, err := identification.Identify(s, opt)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, m := range out.Materials {
		sum += m.Share.Value
		for _, f := range append(m.Grades, m.Share) {
			if err := figure.Check(f); err != nil {
				t.Error(err)
			}
		}
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("the shares sum to %g", sum)
	}
	return out
}

func TestIdentifySaysHowSureItIs(t *testing.T) {
	t.Parallel()
	yes := func(tests ...string) (all []identify.Finding) {
		for _, test := range tests {
			all = append(all, identify.Finding{Test: test, Yes: true})
		}
		return all
	}
	for _, c := range []struct {
		opt     identification.Options
		polymer string
		sure    answer.Verdict
		says    string
	}{
		{identification.Options{}, "PLA", answer.Likely, "identification.nothing_tried"},
		{identification.Options{Findings: yes("limp70", "snaps")}, "PLA", answer.Yes, "identification.is"},
		{identification.Options{Findings: yes("rings", "rings")}, "PLA", answer.Likely, "identification.by_looks"},
		{identification.Options{Label: "PLA"}, "PLA", answer.Likely, "identification.by_label"},
		{identification.Options{Findings: yes("acetone", "whitens"), Label: "ABS"}, "ABS", answer.Yes, "identification.is"},
		{identification.Options{Findings: yes("acetone", "whitens")}, "PLA", answer.Open, "identification.open"}, // so common that two tests do not outweigh it
	} {
		out := identified(t, emptyShop(t), c.opt)
		if out.Polymer != c.polymer || out.Verdict != c.sure || out.Head.Code != c.says || out.Stopped {
			t.Errorf("%+v: %s, %s: %s %g", c.opt, out.Polymer, out.Verdict, out.Head.Code, out.Materials[0].Share.Value)
		}
	}
}

// The most telling test of a bare piece is worth more a minute than any other.
func TestIdentifyOffersTheBestTestFirst(t *testing.T) {
	t.Parallel()
	out := identified(t, emptyShop(t), identification.Options{})
	if out.Next == nil {
		t.Fatal("nothing to try")
	}
	for _, x := range append(out.Tests, *out.Next) {
		if x.Rate.Value > out.Next.Rate.Value {
			t.Errorf("%s tells more a minute than %s", x.Name, out.Next.Name)
		}
		for _, f := range []figure.Figure{x.Learned, x.Rate, x.Chance, x.Time} {
			if err := figure.Check(f); err != nil {
				t.Error(err)
			}
		}
		if x.Ask.Empty() || x.How.Empty() || x.IfYes.Empty() || x.IfNo.Empty() || strings.Contains(x.Name, "flame") {
			t.Errorf("%+v", x)
		}
	}
}

func TestHollowPiecesAreNotFloated(t *testing.T) {
	t.Parallel()
	for _, solid := range []shop.YesNo{shop.Unknown, shop.No} {
		for _, f := range []identify.Finding{{Test: "floats", At: 998}, {Test: identify.Weighed, At: 1200, Within: 12}} {
			_, err := identification.Identify(emptyShop(t), identification.Options{Solid: solid, Findings: []identify.Finding{f}})
			var said *shop.Error
			if !errors.As(err, &said) || said.Field != "solid" || said.Advice.Code != "identification.cut_a_chip" {
				t.Errorf("%q: %v", solid, err)
			}
		}
	}
	identified(t, emptyShop(t), identification.Options{Solid: shop.Yes, Findings: []identify.Finding{{Test: "floats", At: 998}}})
}

func TestChlorineStopsEverything(t *testing.T) {
	t.Parallel()
	for _, opt := range []identification.Options{
		{Chlorine: shop.Yes},
		{Label: "PVC"},
		{Solid: shop.Yes, Findings: []identify.Finding{{Test: "floats", At: 1300}, {Test: "floats", At: 1255}, {Test: "snaps"}}},
	} {
		out := identified(t, emptyShop(t), opt)
		if !out.Stopped || out.Next != nil || len(out.Tests) != 0 || len(out.Steps) != 0 || out.Head.Remedies[0].Code != "bar.hand_over" {
			t.Errorf("%+v: %+v", opt, out)
		}
	}
}

func TestWeighedFinding(t *testing.T) {
	t.Parallel()
	f, err := identification.WeighedFinding(0.0122, 1e-5, 1e-4)
	// 1 % of 1220 and a tenth of a gram over √12 of 12.2 g, in quadrature.
	if want := 1220 * math.Hypot(0.01, 0.1/math.Sqrt(12)/12.2); err != nil || math.Abs(f.At-1220) > 1e-9 || math.Abs(f.Within-want) > 1e-9 {
		t.Errorf("%+v, %v; wanted ± %g", f, err, want)
	}
	for _, bad := range [][3]float64{{0, 1e-5, 1e-4}, {0.01, 0, 1e-4}, {1e-4, 1e-7, 1e-4}, {0.1, 1e-5, 1e-4}, {math.NaN(), 1, 1}} {
		if f, err := identification.WeighedFinding(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%v gave %+v", bad, f)
		}
	}
}

func TestMixedLots(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		r       identification.MixedRequest
		verdict identification.Mixed
	}{
		{identification.MixedRequest{Host: "PLA", Stray: "PETG", Pieces: 60, Wrong: 3}, "unclear"},
		{identification.MixedRequest{Host: "PLA", Stray: "PETG", Pieces: 229}, "visual"}, // one short of what shows 1 %
		{identification.MixedRequest{Host: "PLA", Stray: "PETG", Pieces: 230}, "structural"},
		{identification.MixedRequest{Host: "PLA", Stray: "PETG", Pieces: 100, Wrong: 30}, "refuse"},
		{identification.MixedRequest{Host: "PLA", Stray: "PETG", Pieces: 1000, Wrong: 42}, "apart"},
		{identification.MixedRequest{Host: "PLA", Stray: "PVC", Pieces: 1000}, "refuse"},
		{identification.MixedRequest{Host: "ABS", Stray: "ASA", Pieces: 30, Wrong: 2}, "structural"},
	} {
		out, err := identification.MixedShare(emptyShop(t), c.r)
		if err != nil || out.GoodFor != c.verdict {
			t.Errorf("%+v: %s (%s), %v", c.r, out.GoodFor, out.Head.Code, err)
		}
		for _, f := range out.Figures {
			if err := figure.Check(f); err != nil {
				t.Error(err)
			}
		}
	}
	split, err := identification.MixedShare(emptyShop(t), identification.MixedRequest{Host: "PETG", Stray: "PP", Liquid: 998, Floated: 0.046, Sank: 0.354, Piece: 0.002})
	// 11.5 % floated; slips of 2 % each way leave (11.5 − 2) ÷ 96 %.
	if err != nil || math.Abs(split.Share.Value-0.095/0.96) > 1e-4 {
		t.Errorf("%+v, %v", split.Share, err)
	}
	for _, r := range []identification.MixedRequest{
		{Host: "PLA", Stray: "PLA", Pieces: 10}, {Host: "PLA", Stray: "wood chips", Pieces: 10}, {Host: "PLA", Stray: "PETG"},
		{Host: "PLA", Stray: "PETG", Pieces: 10, Wrong: 11}, {Host: "PLA", Stray: "PETG", Pieces: 10, Wrong: -1},
		{Host: "PLA", Stray: "PETG", Pieces: 10, Wrong: 1, Liquid: 998}, {Host: "PETG", Stray: "PP", Floated: 1, Sank: 1, Liquid: 998},
		{Host: "PETG", Stray: "PP", Floated: 1, Sank: 1, Liquid: 998, Piece: 1e-9}, {Host: "PETG", Stray: "PP", Floated: 1, Pieces: 10, Liquid: 998},
	} {
		if out, err := identification.MixedShare(emptyShop(t), r); err == nil {
			t.Errorf("%+v gave %+v", r, out)
		}
	}
}

func TestLiquidsAreMixed(t *testing.T) {
	t.Parallel()
	out, err := identification.Liquid(identification.LiquidRequest{Liquid: identify.Brine, Density: 1080})
	// 126 g of table salt to a litre of water (Wnt1974, between 10 and 12 %).
	if mass, ok := out.Head.Fact("mass"); err != nil || !ok || math.Abs(mass.Value-0.126) > 0.0005 {
		t.Errorf("%+v, %v", out.Head, err)
	}
	for _, f := range append(out.Figures, out.Floats...) {
		if err := figure.Check(f); err != nil {
			t.Error(err)
		}
	}
	for _, r := range []identification.LiquidRequest{
		{Liquid: "vinegar", Strength: 0.1}, {Liquid: identify.Brine, Density: 1300}, {Liquid: identify.Brine, Strength: 0.5},
		{Liquid: identify.Water, Density: 1050}, {Liquid: identify.Brine, Strength: 0.1, Temperature: 400}, {Liquid: identify.Brine, Density: math.NaN()},
	} {
		if out, err := identification.Liquid(r); err == nil {
			t.Errorf("%+v gave %+v", r, out.Head)
		}
	}
}

// A shop's own lots move the prior as twenty pieces of the books against each of
// them; the lot in question is left out, and a heap counts once.
func TestOwnLotsMoveThePrior(t *testing.T) {
	t.Parallel()
	take := func(id shop.LotID, polymer string) *shop.TakenIn {
		return &shop.TakenIn{Lot: id, Class: shop.Scrap, Polymer: polymer, Mass: 0.5, Sure: shoptest.P(0.8)}
	}
	s := shoptest.Bin(t, take("S1", "ABS"), take("S2", "ABS"), take("S3", "PLA"), take("S4", ""),
		&shop.Sorted{From: "S1", Into: []shop.Part{{Lot: "S5", Mass: 0.1}}})
	out := identified(t, s, identification.Options{Lot: "S4"})
	for _, m := range out.Materials {
		want := map[string]float64{"ABS": (20*0.04 + 1.6) / 22.4, "PLA": (20*0.7 + 0.8) / 22.4, "PETG": 20 * 0.15 / 22.4}[m.Polymer]
		if want != 0 && math.Abs(m.Share.Value-want) > 1e-9 {
			t.Errorf("%s %g, wanted %g", m.Polymer, m.Share.Value, want)
		}
	}
	out = identified(t, s, identification.Options{Lot: "S3"})
	if math.Abs(out.Materials[0].Share.Value-0.8) > 1e-9 || out.Polymer != "PLA" || out.Steps[0].Do.Code == "do.keep_piece" {
		t.Errorf("its owner is sure to 80 %%: %+v", out.Materials[0])
	}
	out = identified(t, s, identification.Options{Lot: "S3", Findings: []identify.Finding{{Test: "limp70", Yes: true}}})
	if out.Steps[0].Do.Code != "do.keep_piece" || out.Steps[0].Do.Text("lot") != "S3" {
		t.Errorf("got %+v", out.Steps[0])
	}
	if _, err := identification.Identify(s, identification.Options{Lot: "S99"}); err == nil {
		t.Error("a lot that is not there was taken")
	}
	suspect := shoptest.Bin(t, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Mass: 0.5, Halogen: shop.Yes})
	if out := identified(t, suspect, identification.Options{Lot: "S1"}); !out.Stopped {
		t.Errorf("a suspected lot went on: %s", out.Head.Code)
	}
}
