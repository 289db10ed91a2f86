package web

import (
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"net/http"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/drawing"
	"hopperful/internal/web/family"
	"hopperful/plan/traceability"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// randomShop is a shop with random blends, prints, sortings and runs of the mill.
func randomShop(rt *rapid.T, t testing.TB) *shop.State {
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Name: "a bag with a name far too long for any card", Mass: 5},
		&shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Colour: "green", Mass: 5},
		&shop.TakenIn{Lot: "R1", Class: shop.Regrind, Polymer: "PLA", RGB: "#aa3311", Mass: 5})
	for range rapid.IntRange(1, 40).Draw(rt, "steps") {
		stock := s.Stock("")
		a, b := rapid.SampledFrom(stock).Draw(rt, "a"), rapid.SampledFrom(stock).Draw(rt, "b")
		var body shop.Body
		switch what := rapid.IntRange(0, 4).Draw(rt, "what"); {
		case what == 0:
			body = &shop.Printed{From: a.ID, Print: "part", Mass: a.Mass / 3, Purged: shoptest.P(a.Mass / 30)}
		case what == 1 && a.Class == shop.Scrap:
			body = &shop.Ground{Mill: "Rattle", From: a.ID, Charge: a.Mass / 4, Left: shoptest.P(a.Mass / 100), Run: 60}
		case what == 2:
			body = &shop.Weighed{Lot: a.ID, Mass: a.Mass * 1.05}
		case a.ID == b.ID || what == 3:
			body = &shop.Sorted{From: a.ID, Into: []shop.Part{{Mass: a.Mass / 2}}, Waste: shoptest.P(a.Mass / 20)}
		default:
			body = &shop.Blended{From: []shop.Portion{{Lot: a.ID, Mass: a.Mass / 2}, {Lot: b.ID, Mass: b.Mass / 3}}}
		}
		if next, err := s.With(shop.Record{At: shoptest.Noon, Body: body}); err == nil {
			s = next
		}
	}
	return s
}

// drawnKin is a random family, folded at random.
func drawnKin(rt *rapid.T, t testing.TB) (*family.Tree, traceability.Tracing, *desk.Desk) {
	s := randomShop(rt, t)
	d := &desk.Desk{State: s, Say: say.For(), Now: noon, Query: func(string) string { return "" }}
	in := traceability.Within{Levels: rapid.IntRange(1, 5).Draw(rt, "levels"), Across: rapid.IntRange(1, 9).Draw(rt, "across")}
	k, tr, err := family.Placed(d, rapid.SampledFrom(s.Order).Draw(rt, "lot"), in)
	if err != nil {
		rt.Fatal(err)
	}
	return k, tr, d
}

func boxes(k *family.Tree) []*family.Box {
	all := []*family.Box{k.Lot}
	k.Each(func(b, _ *family.Box, _ bool) { all = append(all, b) })
	return all
}

func TestBoxesOfAFamilyNeverOverlap(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		k, _, _ := drawnKin(rt, t)
		all := boxes(k)
		for i, a := range all {
			if a.X < 0 || a.Y < 0 || a.X+a.W > k.Wide || a.Y+a.H > k.High {
				rt.Fatalf("%s stands outside the picture", a.Lot.Lot)
			}
			for _, b := range all[:i] {
				if a.X < b.X+b.W && b.X < a.X+a.W && a.Y < b.Y+b.H && b.Y < a.Y+a.H {
					rt.Fatalf("%+v lies over %+v", a, b)
				}
			}
		}
	})
}

// Bands are as wide as their mass on one scale for the whole picture, end on
// their boxes, and those of one box lie side by side in the order of where they go.
func TestBandsAreAsWideAsTheirMass(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		k, _, _ := drawnKin(rt, t)
		ends := map[string]float64{} // where the last band of a side ended
		k.Each(func(b, on *family.Box, up bool) {
			n := b.Band
			if math.Abs(n.Wide-k.Scale*b.Mass) > 1e-9 {
				rt.Fatalf("a band of %g kg is %g wide, the scale is %g", b.Mass, n.Wide, k.Scale)
			}
			if n.NearX < on.X-1e-9 || n.NearX+n.Wide > on.X+on.W+1e-9 || n.FarX < b.X-1e-9 || n.FarX+n.Wide > b.X+b.W+1e-9 {
				rt.Fatalf("the band of %+v leaves its boxes", b)
			}
			far, near := b.Y, on.Y+on.H
			if up {
				far, near = b.Y+b.H, on.Y
			}
			if n.FarY != far || n.NearY != near || math.Abs(far-near) < family.LeastDrop-1e-9 {
				rt.Fatalf("the band of %+v does not end on its boxes", b)
			}
			side := fmt.Sprintf("%p %t", on, up)
			if last, ok := ends[side]; ok && n.NearX < last-1e-9 {
				rt.Fatalf("two bands lie over each other at %s", on.Lot.Lot)
			}
			ends[side] = n.NearX + n.Wide
		})
	})
}

// What is drawn around the lot adds up to what came into it, as the trace says.
func TestThePicturesMassesAddUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		k, tr, d := drawnKin(rt, t)
		in, out := 0.0, tr.OnHand
		for _, b := range k.Up {
			in += b.Mass
		}
		for _, b := range k.Down {
			out += b.Mass
		}
		found := math.Max(0, -tr.Lost)
		if math.Abs(in-tr.In-found) > 1e-9 || math.Abs(out-tr.In-found) > 1e-9 {
			rt.Fatalf("%s: %g kg came in and %g found; the picture shows %g above and %g below", tr.Lot.Lot, tr.In, found, in, out)
		}
		whole, err := traceability.Trace(d.State, tr.Lot.Lot)
		if err != nil {
			rt.Fatal(err)
		}
		went := 0.0
		for _, b := range k.Down {
			if b.Kind == family.KinLot || b.Kind == family.KinMore {
				went += b.Mass
			}
		}
		if math.Abs(went-whole.Went) > 1e-9 {
			rt.Fatalf("%g kg went into other lots, the picture shows %g", whole.Went, went)
		}
	})
}

// A drawing is well-formed, and so is its file, which needs nothing of the page.
func TestFamiliesAreDrawnWell(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		k, tr, d := drawnKin(rt, t)
		d.Say = d.Say.WithComma()
		text := string(k.Draw(d, "The family of <S1> & more", true, family.MoreOf(tr.Lot.Lot, true)))
		wellFormed(rt, text)
		for _, bad := range []string{"NaN", "Inf", "%!", "style="} {
			if strings.Contains(text, bad) {
				rt.Fatalf("the drawing says %s", bad)
			}
		}
		if n := strings.Count(text, "<a "); n != strings.Count(text, "<title>") {
			rt.Fatalf("%d links, not each with its words", n)
		}
	})
}

func wellFormed(rt interface{ Fatal(...any) }, text string) {
	for dec := xml.NewDecoder(strings.NewReader(text)); ; {
		if _, err := dec.Token(); err == io.EOF {
			return
		} else if err != nil {
			rt.Fatal(err)
		}
	}
}

func TestAFamilyIsSavedAsFiles(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for _, name := range []string{"near.svg", "family.svg"} {
		w := b.get("/stock/R1/family/" + name)
		body := w.Body.String()
		if w.Code != http.StatusOK || !strings.Contains(w.Header().Get("Content-Disposition"), "R1-family.svg") || !strings.HasPrefix(body, `<svg xmlns=`) {
			t.Fatalf("%s answers %d: %.80s", name, w.Code, body)
		}
		wellFormed(t, body)
		if strings.Contains(body, "var(") || strings.Contains(body, "<a ") || !strings.Contains(body, "stroke") {
			t.Errorf("%s still needs the page", name)
		}
	}
	rows, err := csv.NewReader(b.get("/stock/R1/family/family.csv").Body).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, row := range rows[1:] {
		if row[1] == "1" && row[0] == "came from" {
			m, err := strconv.ParseFloat(row[5], 64)
			if err != nil {
				t.Fatal(err)
			}
			sum += m
		}
	}
	if want := b.store.State().Lots.At("R1").In; math.Abs(sum-want) > 1e-6 {
		t.Errorf("%g kg came in by the file, %g by the records", sum, want)
	}
	for _, path := range []string{"/stock/R99/family", "/stock/R1/family/nothing.svg", "/stock/x/family/family.csv"} {
		if w := b.get(path); w.Code != http.StatusNotFound {
			t.Errorf("%s answers %d", path, w.Code)
		}
	}
}

func TestCardsHoldTheirWords(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][]string{
		"":                            nil,
		"vase":                        {"vase"},
		"failed brackets and brims":   {"failed", "brackets and…"},
		"Donaudampfschifffahrtspfote": {"Donaudampfsch…"},
		"motor mounts, inserts, cut":  {"motor mounts,", "inserts, cut"},
	} {
		if got := drawing.Fold(text, 14, 2); strings.Join(got, "|") != strings.Join(want, "|") {
			t.Errorf("%q is folded into %q, want %q", text, got, want)
		}
	}
}
