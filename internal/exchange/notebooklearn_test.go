package exchange

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"hopperful/internal/store"
	"hopperful/plan"
	"hopperful/plan/notebook"
	"hopperful/quantity"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// typed are the records of testdata/maker.csv as their maker would have typed them
// one by one: a second writing down, by hand, that shares nothing with the reader.
func typed(t testing.TB) []shop.Record {
	t.Helper()
	kelvin := func(c float64) *float64 { return shoptest.P(c + 273.15) }
	day, clock := "", ""
	var list []shop.Record
	note := func(by, text string, b shop.Body) {
		at, err := time.ParseInLocation("2006-01-02 15:04", day+" "+clock, bookNow.Location())
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, shop.Record{At: at, By: by, Note: text, Body: b})
	}
	run := func(by, text string, grams, seconds float64, level int, product, left, before, after, room float64) {
		b := &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: grams / 1000, Run: seconds, Level: &level}
		for _, x := range []struct {
			at **float64
			v  float64
		}{{&b.Product, product / 1000}, {&b.Left, left / 1000}} {
			if x.v != 0 {
				*x.at = shoptest.P(x.v)
			}
		}
		for _, x := range []struct {
			at **float64
			v  float64
		}{{&b.WallBefore, before}, {&b.WallAfter, after}, {&b.Room, room}} {
			if x.v != 0 {
				*x.at = kelvin(x.v)
			}
		}
		note(by, text, b)
	}
	day, clock = "2026-05-03", "00:00"
	note("Ada", "failed brackets", &shop.TakenIn{Class: shop.Scrap, Name: "black bin", Polymer: "PLA", Colour: "black", Mass: 2.4})
	clock = "09:10"
	run("Ada", "", 90, 70, 10, 74, 12, 19, 24, 19)
	clock = "09:24"
	run("", "", 92, 75, 10, 88, 0, 23, 29, 0)
	clock = "09:40"
	run("", "jar not emptied", 88, 70, 10, 0, 0, 0, 0, 0)
	clock = "09:55"
	run("", "two charges together", 90, 80, 12, 174, 9, 27, 34, 0)
	run("", "forgot to look at the clock", 95, 80, 12, 89, 0, 0, 0, 0)
	day, clock = "2026-05-04", "10:02"
	run("Ben", "", 90, 75, 12, 87, 0, 18, 24, 18)
	clock = "10:15"
	run("Ben", "", 91, 75, 12, 88, 11, 23, 28, 0)
	clock = "10:31"
	run("", "smelled warm", 900, 70, 12, 90, 0, 26, 32, 0)
	clock = "10:50"
	run("", "", 90, 70, 12, 91, 0, 30, 35, 0)
	clock = "11:20"
	run("", "end of the bag", 60, 55, 12, 56, 8, 0, 0, 0)
	day, clock = "2026-05-11", "00:00"
	run("Ada", "", 93, 75, 12, 89, 0, 17, 23, 17)
	run("", "", 90, 75, 12, 86, 10, 22, 28, 0)
	day = "2026-05-12"
	note("", "without the pan", &shop.Weighed{Lot: "R1", Mass: 0.99})
	day = "2026-05-14"
	note("Ada", "", &shop.Printed{From: "R1", Print: "hook", Mass: 0.15})
	return list
}

// bench is a shop in a file, with a mill and a scale.
func bench(t testing.TB, name string) *store.Store {
	t.Helper()
	s, err := store.Create(context.Background(), filepath.Join(t.TempDir(), name), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	at := time.Date(2026, 4, 20, 8, 0, 0, 0, time.UTC)
	_, err = s.Append(context.Background(), bookNow, shop.Record{At: at, Body: &shop.MillSet{Mill: shoptest.Mill()}}, shop.Record{At: at, Body: &shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: 0.001}}})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// A notebook that is imported teaches what the same records teach when they are
// typed one by one: the same records, the same questions, the same mill, the same
// plan. Imported again, it writes nothing.
func TestImportedTeachesWhatTypedTeaches(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	byHand := bench(t, "typed.hopperful")
	for _, r := range typed(t) {
		if _, err := byHand.Append(ctx, bookNow, r); err != nil {
			t.Fatal(err)
		}
	}
	imported := bench(t, "imported.hopperful")
	look := func() notebook.Result {
		f, err := os.Open("testdata/maker.csv")
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		b, err := ReadNotebook("maker.csv", f, -1, BookReading{Now: bookNow})
		if err != nil {
			t.Fatal(err)
		}
		return notebook.Of(imported.State(), bookNow, b.Lines, b.Notes...)
	}
	r := look()
	if len(r.Records) != 15 || r.Count(notebook.Asked) != 1 {
		t.Fatalf("%d records, %d asked about: %+v", len(r.Records), r.Count(notebook.Asked), r.Document)
	}
	if _, err := imported.Append(ctx, bookNow, r.Records...); err != nil {
		t.Fatal(err)
	}
	a, b := byHand.State(), imported.State()
	for i := range a.History.All() {
		if got, want := brief(t, b.History.At(i))+b.History.At(i).By+b.History.At(i).Note, brief(t, a.History.At(i))+a.History.At(i).By+a.History.At(i).Note; got != want {
			t.Errorf("imported %s\ntyped    %s", got, want)
		}
	}
	if len(a.Asks()) != 1 || len(b.Asks()) != 1 {
		t.Errorf("%d and %d questions, wanted one each", len(a.Asks()), len(b.Asks()))
	}
	for _, ask := range []func(*shop.State) (any, error){
		func(s *shop.State) (any, error) { return plan.Learn(s, "Rattle") },
		func(s *shop.State) (any, error) {
			return plan.Grind(s, plan.Request{Need: shop.Need{Name: "cover", From: "typed", Polymer: "PLA", Mass: shoptest.P(0.2)}, Draws: 200})
		},
	} {
		want, err := ask(a)
		got, err2 := ask(b)
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		if inJSON(t, want) != inJSON(t, got) {
			t.Errorf("imported and typed answer differently")
		}
	}
	again := look()
	if len(again.Records) != 0 || again.Count(notebook.Known) != 15 {
		t.Errorf("imported again it would write %d records; %d are known", len(again.Records), again.Count(notebook.Known))
	}
	if q := quantity.Mass; b.Lots.At("R1").Mass != a.Lots.At("R1").Mass {
		t.Errorf("R1 holds %s and %s", q.Show(a.Lots.At("R1").Mass), q.Show(b.Lots.At("R1").Mass))
	}
}
