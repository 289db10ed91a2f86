package traceability_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"hopperful/shop"
)

// However few rows there is room for, the shares add up and keep the mean's
// side of one pass; each lies in its range.
func TestGatheredAgesAddUp(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		s := tangled(t, rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 5)), 30)
		a := aged(t, s, rapid.SampledFrom(s.Order).Draw(rt, "lot"))
		most := rapid.IntRange(1, 9).Draw(rt, "rows")
		rows, sum := a.Gathered(most), 0.0
		for i, p := range rows {
			sum += p.Share
			if p.Number != i || p.Low > p.Share || p.High < p.Share || p.Low < 0 || p.High > 1+1e-9 {
				rt.Fatalf("row %d is %+v", i, p)
			}
			if p.OrMore && i < len(rows)-1 {
				rt.Fatalf("row %d of %d gathers the older", i, len(rows))
			}
			if i < len(rows)-1 && math.Abs(p.Share-at(a.Shares, i)) > 1e-9 {
				rt.Fatalf("row %d is %g, the age says %g", i, p.Share, at(a.Shares, i))
			}
		}
		if len(rows) > most || math.Abs(sum-1) > 1e-9 {
			rt.Fatalf("%d rows hold %g", len(rows), sum)
		}
	})
}

func at(shares []float64, i int) float64 {
	if i < len(shares) {
		return shares[i]
	}
	return 0
}

// New granulate has one row without a range; scrap from outside has none below
// one pass, and a range above (own derivation, from the judged past).
func TestAgesOfWhatIsKnownHaveNoRange(t *testing.T) {
	t.Parallel()
	s := family(t)
	if rows := aged(t, s, "V1").Gathered(8); len(rows) != 1 || rows[0].Share != 1 || rows[0].Low != 1 || rows[0].OrMore {
		t.Errorf("V1: %+v", rows)
	}
	rows := aged(t, s, shop.LotID("S1")).Gathered(8)
	if len(rows) < 4 || rows[0].High != 0 || rows[1].Low >= rows[1].Share || rows[1].High != 1 || !rows[len(rows)-1].OrMore {
		t.Errorf("S1: %+v", rows)
	}
}
