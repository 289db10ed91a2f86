package shop

import (
	"fmt"
	"math"
	"runtime"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// roughShops are shops of which much is not known: what each record after the first
// leaves unsaid, by what grew with the square of the records once. Each fourth
// record takes scrap in, the others grind it; a run overlaps the one before, so that
// each is asked about.
var roughShops = map[string]func(b *Ground, i int){
	"what is left is never weighed": func(b *Ground, _ int) { b.Product = kg(0.19) },
	"nothing is weighed":            func(*Ground, int) {},
	"levels of no controller":       func(b *Ground, _ int) { b.Product, b.Level = kg(0.19), new(int); *b.Level = 7 },
	"now and then more comes out":   func(b *Ground, i int) { b.Product = kg(0.19 + 0.02*float64(i%8/7)) },
}

// roughShop writes n records of such a shop.
func roughShop(n int, unsaid func(*Ground, int)) []Record {
	list := []Record{{ID: 1, At: monday, Body: &MillSet{Mill: Mill{Name: "tub"}}}}
	for i := range n {
		r := Record{ID: RecordID(i + 2), At: monday.Add(time.Duration(i+1) * time.Minute)}
		scrap := LotID(fmt.Sprintf("S%d", i/4+1))
		if i%4 == 0 {
			r.Body = &TakenIn{Class: Scrap, Polymer: "PLA", Mass: 1, Lot: scrap}
		} else {
			b := &Ground{Mill: "tub", From: scrap, Into: LotID(fmt.Sprintf("R%d", i/400+1)), Charge: 0.2, Run: 180}
			unsaid(b, i)
			r.Body = b
		}
		list = append(list, r)
	}
	return list
}

// TestFoldingGrowsWithTheRecords counts what is allocated, which no busy machine
// changes: four times the records may need little more than four times of it.
func TestFoldingGrowsWithTheRecords(t *testing.T) { // not parallel: it counts for the whole process
	for name, unsaid := range roughShops {
		t.Run(name, func(t *testing.T) {
			few, many := foldedBytes(t, roughShop(4000, unsaid)), foldedBytes(t, roughShop(16_000, unsaid))
			t.Logf("%.1f MB, then %.1f MB", few/1e6, many/1e6)
			if many > 1.5*4*few {
				t.Errorf("4,000 records allocate %.1f MB, 16,000 %.1f MB", few/1e6, many/1e6)
			}
		})
	}
}

// foldedBytes is how much is allocated in folding records.
func foldedBytes(t *testing.T, list []Record) float64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	s := mustFold(t, list)
	runtime.ReadMemStats(&after)
	if b := BalanceOf(s); math.Abs(b.Residual) > 1e-6 {
		t.Errorf("%g kg are nowhere", b.Residual)
	}
	return float64(after.TotalAlloc - before.TotalAlloc)
}

// TestQuestionsAreFoundByRecord: of every record exactly its own, without those of others.
func TestQuestionsAreFoundByRecord(t *testing.T) {
	t.Parallel()
	s := mustFold(t, roughShop(200, roughShops["levels of no controller"]))
	level, late := 7, monday.Add(150*time.Second) // more than the lot has, at a level that is none, and written down late
	s = write(t, s, Record{At: late, Body: &Ground{Mill: "tub", From: "S1", Into: "R1", Charge: 5, Level: &level, Run: 60}})
	if two := len(s.questions(s.Newest().ID)); len(s.asked) < 150 || two < 2 {
		t.Fatalf("%d questions, %d of the run written late", len(s.asked), two)
	}
	for _, r := range s.Records.All() {
		var own []Ask
		for _, a := range s.asked {
			if a.Record == r.ID {
				own = append(own, a)
			}
		}
		if got := s.questions(r.ID); !slices.Equal(got, own) {
			t.Errorf("of record %d is asked %+v, found %+v", r.ID, own, got)
		}
	}
}

// TestCoarseKeepsTheMass: no more lots than are followed, each of them there before
// and in its order, no mass lost, and every lot of a 250th or more still told; a mix of few lots is as
// it was.
func TestCoarseKeepsTheMass(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 3*2*followed).Draw(t, "lots")
		large := rapid.Float64Range(1, 1000).Draw(t, "large")
		every := rapid.IntRange(1, 100).Draw(t, "every")
		var m mix
		for i := range n {
			p := part{LotID(fmt.Sprintf("S%d", i+1)), 0.01}
			if i%every == 0 {
				p.mass *= large
			}
			m = append(m, p)
		}
		was := slices.Clone(m)
		c := m.coarse()
		if !slices.Equal(m, was) {
			t.Fatal("the mix itself was changed")
		}
		if n <= 2*followed && !slices.Equal(c, m) {
			t.Fatalf("%d lots are few, and told by %d", n, len(c))
		}
		if n > 2*followed && len(c) > followed+2 {
			t.Fatalf("%d lots are told by %d", n, len(c))
		}
		if math.Abs(c.mass()-m.mass()) > 1e-9*m.mass() {
			t.Fatalf("%g kg became %g kg", m.mass(), c.mass())
		}
		if c[len(c)-1] != m[len(m)-1] {
			t.Fatalf("the latest lot is %+v", c[len(c)-1])
		}
		next := 0
		for _, p := range c {
			i := slices.IndexFunc(m, func(q part) bool { return q.lot == p.lot })
			if i < next || m[i].mass > p.mass {
				t.Fatalf("%+v comes out of order, or had more", p)
			}
			next = i + 1
		}
		for i, p := range m {
			told := slices.ContainsFunc(c, func(q part) bool { return q.lot == p.lot })
			if p.mass > m.mass()/followed*(1+1e-9) && !told {
				t.Fatalf("lot %d has %g of %g kg and is not told", i, p.mass, m.mass())
			}
		}
	})
}
