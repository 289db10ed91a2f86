package sieving

// What services make of a screen's book, how many passes are judged, and what sizes of few sieves follow from, by hand.

import (
	"testing"

	"hopperful/process/sieve"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Damage is damage whoever says it how; a repair after which it is not sound is none. What wears begins anew with what was changed but the seal.
func TestServicesInABook(t *testing.T) {
	t.Parallel()
	did := func(part shop.MillPart, what shop.Upkeep, sound shop.YesNo) *shop.Serviced {
		return &shop.Serviced{Mill: "Rattle", Part: part, What: what, Sound: sound}
	}
	for i, c := range []struct {
		of      []shop.Body
		looks   []lookKind
		damaged bool
		since   bool
		worn    bool
	}{
		{nil, nil, false, false, false}, {[]shop.Body{did(shop.ScreenPart, shop.FoundDamaged, shop.Unknown)}, []lookKind{lookBad}, true, false, false}, {[]shop.Body{did(shop.ScreenPart, shop.Inspected, shop.No)}, []lookKind{lookBad}, true, false, false}, {[]shop.Body{did(shop.ScreenPart, shop.Repaired, shop.No)}, []lookKind{lookBad}, true, false, true},
		{[]shop.Body{did(shop.ScreenPart, shop.Inspected, shop.Yes)}, []lookKind{lookSound}, false, true, false}, {[]shop.Body{did(shop.ScreenPart, shop.Inspected, shop.Unknown)}, nil, false, false, false}, {[]shop.Body{did(shop.ScreenPart, shop.Replaced, shop.Unknown)}, []lookKind{lookChanged}, false, true, true},
		{[]shop.Body{did(shop.ScreenPart, shop.Replaced, shop.Yes), did(shop.ScreenPart, shop.FoundDamaged, shop.No)}, []lookKind{lookBad, lookChanged}, true, true, true}, {[]shop.Body{did(shop.ScreenPart, shop.Inspected, shop.Yes), did(shop.ScreenPart, shop.Repaired, shop.Yes)}, []lookKind{lookChanged}, false, true, true},
		{[]shop.Body{did(shop.SealPart, shop.Replaced, shop.Yes)}, nil, false, false, false}, {[]shop.Body{did(shop.BladePart, shop.Sharpened, shop.Yes)}, nil, false, false, true}, {[]shop.Body{did(shop.BladePart, shop.Inspected, shop.Yes)}, nil, false, false, true}, {[]shop.Body{did(shop.BladePart, shop.Inspected, shop.No)}, nil, false, false, false},
	} {
		b := newScreenBook(shoptest.Bin(t, c.of...), "Rattle")
		b.services()
		same := len(b.looks) == len(c.looks)
		for k := range c.looks {
			same = same && b.looks[k].what == c.looks[k]
		}
		if !same || (b.damaged != 0) != c.damaged || (b.since != 0) != c.since || (b.worn >= 0) != c.worn {
			t.Errorf("case %d: %+v, damaged %d, since %d, worn %d", i, b.looks, b.damaged, b.since, b.worn)
		}
	}
}

// So many of the latest passes are judged, and no more.
func TestHowManyPassesAreJudged(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t)
	for n, want := range map[int]int{1: 1, mostJudged: mostJudged, mostJudged + 3: mostJudged} {
		b := newScreenBook(s, "Rattle")
		for i := range n {
			b.metal = append(b.metal, screenMetal{i, shop.RecordID(i + 1), "R1", 0.5, 0.01})
		}
		var out ScreenState
		if err := b.metalTest(s, &out); err != nil || out.Metal.Passes != want || len(out.Records) != want || out.Metal.Record != shop.RecordID(n) {
			t.Errorf("%d passes: %+v, %v", n, out.Metal, err)
		}
	}
	var out ScreenState
	if err := newScreenBook(s, "Rattle").metalTest(s, &out); err != nil || out.Metal != nil {
		t.Errorf("%+v, %v", out.Metal, err)
	}
}

// What a size follows from where one sieve stood, and where two did.
func TestWhatSizesOfFewSievesFollowFrom(t *testing.T) {
	t.Parallel()
	s := shoptest.Bin(t)
	for how, openings := range map[string][]float64{"sieving.how_one_sieve": {1e-3}, "sieving.how_two_sieves": {2e-3, 0.5e-3}} {
		st := Stack{Name: "few"}
		po := sieve.Portion{Charge: 0.1}
		for _, x := range openings {
			one, err := sieve.Own(x, sieve.Woven)
			if err != nil {
				t.Fatal(err)
			}
			st.Sieves, po.Rows = append(st.Sieves, one), append(po.Rows, sieve.Row{Mass: 0.06 / float64(len(openings))})
		}
		po.Rows = append(po.Rows, sieve.Row{Mass: 0.04})
		st.Portions = []sieve.Portion{po}
		a, err := Of(s, st, Options{})
		if err != nil || !a.Simple || len(a.Sizes) == 0 || a.Sizes[0].How != how {
			t.Errorf("%s: %+v, %v", how, a.Sizes, err)
		}
	}
}
