package identification

// How a mixed lot is counted and kept, by hand.

import (
	"math"
	"testing"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/polymer"
	"hopperful/polymer/identify"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Pieces weighed apart by a liquid: of 100 g of pieces of 2 g are 50, of which 6 g sank, three. Between one and a million there may be.
func TestPiecesByTheirMass(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		floated, sank, piece float64
		wrong, pieces        int
		share                float64
		taken                bool
	}{
		{0.094, 0.006, 0.002, 3, 50, 0.06, true}, {0.1, 0, 0.1, 0, 1, 0, true}, {0.1, 0, 0.101, 0, 0, 0, false}, {1, 0, 1e-6, 0, 1e6, 0, true}, {1, 0, 0.9e-6, 0, 0, 0, false}, {0, 0.1, 0.002, 50, 50, 1, true}, {0.1, 0.004, 0, 0, 0, 0, false}, {0.0985, 0.0015, 0.001, 2, 100, 0.015, true},
	} {
		r := MixedRequest{Host: "PP", Stray: "PETG", Liquid: 1000, Floated: c.floated, Sank: c.sank, Piece: c.piece}
		got, err := r.seen(&MixedLot{host: "PP", stray: "PETG"})
		if (err == nil) != c.taken || c.taken && (got.wrong != c.wrong || got.pieces != c.pieces || math.Abs(got.share-c.share) > 1e-9) {
			t.Errorf("case %d: %+v, %v", i, got, err)
		}
	}
	// In a liquid between them the stray that floats is the wrong one.
	r := MixedRequest{Host: "PETG", Stray: "PP", Liquid: 1000, Floated: 0.006, Sank: 0.094, Piece: 0.002}
	if got, err := r.seen(&MixedLot{host: "PETG", stray: "PP"}); err != nil || got.wrong != 3 || got.pieces != 50 {
		t.Errorf("%+v, %v", got, err)
	}
	for i, c := range []struct {
		r  MixedRequest
		ok bool
	}{{MixedRequest{Pieces: 1, Wrong: 1}, true}, {MixedRequest{Pieces: 0}, false}, {MixedRequest{Pieces: -1}, false}, {MixedRequest{Pieces: 5, Floated: 0.1, Piece: 0.01, Liquid: 1000}, false}, {MixedRequest{Floated: 0.1, Piece: 0.01}, false}} {
		if got, err := c.r.seen(&MixedLot{host: "PP", stray: "PETG"}); (err == nil) != c.ok || c.ok && (got.share != 1 || got.pieces != 1) {
			t.Errorf("case %d: %+v, %v", i, got, err)
		}
	}
}

// What more pieces would settle is told where it is not settled yet and the limit is no less than one in ten thousand.
func TestHowManyPiecesSettleIt(t *testing.T) {
	t.Parallel()
	for i, c := range []struct {
		good       Mixed
		structural float64
		told       bool
	}{{ForJigs, 0.01, true}, {ForParts, 0.01, false}, {ForNone, 0.01, false}, {Unclear, 1.5e-4, true}, {ForTrial, 1e-4, true}, {ForTrial, 0.9e-4, false}, {Unclear, 0.9, true}} {
		m := &MixedLot{GoodFor: c.good, Limits: []figure.Figure{{Key: "structural"}}}
		if err := m.document(polymer.Pair{Structural: c.structural}); err != nil {
			t.Fatal(i, err)
		}
		if told := len(m.Steps) == 1; told != c.told || told != (m.Figures[len(m.Figures)-1].Key == "enough") {
			t.Errorf("case %d: told %t", i, told)
		}
		if c.told { // so many without a wrong one as would be drawn once in ten times: ln 0.1/ln(1 − limit)
			want := math.Ceil(math.Log(0.1) / math.Log(1-math.Min(c.structural, 0.5)))
			if n := m.Figures[len(m.Figures)-1].Value; math.Abs(n-want) > 1 {
				t.Errorf("case %d: %g pieces, by hand %g", i, n, want)
			}
		}
	}
}

// An answer is kept as sure as it is, to a hundredth, and no surer than 99 %.
func TestHowSureAnAnswerIsKept(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Mass: 0.5, Halogen: shop.No})
	for share, want := range map[float64]float64{0.8349: 0.83, 0.8351: 0.84, 0.9999: 0.99, 0.66: 0, answer.LikelyShare: 0.67} {
		out := Identification{Polymer: "PLA", Materials: []Material{{Polymer: "PLA", Share: figure.Figure{Value: share}}}}
		r, err := Keep(s, Options{Lot: "S1", Findings: make([]identify.Finding, 1)}, out)
		if (err == nil) != (want > 0) {
			t.Errorf("%g: %v", share, err)
			continue
		}
		if err != nil {
			continue
		}
		b, ok := r.Body.(*shop.Sorted)
		if !ok || len(b.Into) != 1 || b.Into[0].Sure == nil || math.Abs(*b.Into[0].Sure-want) > 1e-12 {
			t.Errorf("%g is kept as %+v", share, r.Body)
		}
	}
}
