package fit

import (
	"fmt"
	"testing"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

// asItem is a question with a verdict, held to a bound on one side.
func asItem(key string, v answer.Verdict, chance float64, side figure.Side) Item {
	f := figure.Exact(key, "belief."+key, quantity.Share, 0.5, figure.Reckoned).Held(figure.Limit{Name: "limit", Value: 0.7, Side: side, Holds: chance})
	return Item{Key: key, Verdict: v, Chance: chance, Figure: &f}
}

// The table that leads has the five questions worth most that are no yes, in the order the
// material travels, and counts; where all is well there is only the whole one.
func TestWhichQuestionsLead(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ yes, bad, rows int }{{3, 0, 0}, {2, 1, 1}, {1, 5, 5}, {1, 7, 5}} {
		var f Fitness
		for i := range c.yes {
			f.Items = append(f.Items, asItem(fmt.Sprintf("y%d", i), answer.Yes, 1, figure.Below))
		}
		for i := range c.bad {
			bad := asItem(fmt.Sprintf("b%d", i), answer.Open, 0.2+0.05*float64(i), figure.Over)
			bad.Change = &Remedy{Kind: Measure}
			f.Items = append(f.Items, bad)
		}
		all := f.tables()
		whole := all[len(all)-1]
		if len(all) != min(c.bad, 1)+1 || whole.Key != "fit_all" || whole.Leads || len(whole.Rows) != c.yes+c.bad {
			t.Errorf("%+v: %d tables, the whole one of %d rows", c, len(all), len(whole.Rows))
			continue
		}
		for i, row := range whole.Rows {
			want := "limit.at_most"
			if i >= c.yes {
				want = "limit.at_least"
			}
			if code := row[3].Parts[0].Code; code != want {
				t.Errorf("row %d is bound %s, wanted %s", i, code, want)
			}
		}
		if c.bad == 0 {
			continue
		}
		lead := all[0]
		yes, _ := lead.Notes[0].Fact("yes")
		n, _ := lead.Notes[0].Fact("n")
		if lead.Key != "fit" || !lead.Leads || len(lead.Rows) != c.rows || int(yes.Value) != c.yes || int(n.Value) != c.yes+c.bad {
			t.Errorf("%+v: leads with %d rows, %g of %g are yes", c, len(lead.Rows), yes.Value, n.Value)
		}
		for i, row := range lead.Rows { // the least likely five, as they come
			if row[2].Figure.Key != fmt.Sprintf("b%d", i) {
				t.Errorf("%+v: row %d is %s", c, i, row[2].Figure.Key)
			}
		}
	}
	for _, c := range []struct {
		seconds float64
		says    bool
	}{{0, false}, {-1, false}, {60, true}} {
		if f := (&Remedy{Time: c.seconds}).takes("takes"); (f.Value > 0) != c.says {
			t.Errorf("%g s are told as %+v", c.seconds, f)
		}
	}
	half := 0.5
	if f := (&Remedy{Chance: &half}).after("after"); f.Value != half {
		t.Errorf("after it %+v", f)
	}
	if f := (&Remedy{}).after("after"); f.Value != 0 || len(f.Parts) != 0 {
		t.Errorf("nobody knows, and it is %+v", f)
	}
}

// A lot is judged by itself, a plastic asked about without one, or beside a lot that is above suspicion, by its name.
func TestWhatIsKeptFromHeat(t *testing.T) {
	t.Parallel()
	job := func(lot shop.Lot, req DryRequest, polymer string) *dryJob {
		j := &dryJob{req: req, job: &job{lot: &lot}}
		j.polymer.Name = polymer
		return j
	}
	pvc, pla := shop.Lot{ID: "R1", Polymer: "PVC"}, shop.Lot{ID: "R1", Polymer: "PLA", Halogen: shop.No}
	suspect := shop.Lot{ID: "R1", Polymer: "PLA", Halogen: shop.Yes}
	for i, c := range []struct {
		lot     shop.Lot
		req     DryRequest
		polymer string
		barred  bool
	}{
		{pvc, DryRequest{Lot: "R1"}, "PVC", true}, {pla, DryRequest{Lot: "R1"}, "PLA", false}, {suspect, DryRequest{Lot: "R1"}, "PLA", true},
		{pla, DryRequest{Lot: "R1", Polymer: "PVC"}, "PVC", true}, {suspect, DryRequest{Lot: "R1", Polymer: "PLA"}, "PLA", true},
		{shop.Lot{}, DryRequest{Polymer: "PLA"}, "PLA", false}, {shop.Lot{}, DryRequest{Polymer: "PVC"}, "PVC", true},
	} {
		if bar := job(c.lot, c.req, c.polymer).barred(); (bar != nil) != c.barred {
			t.Errorf("case %d: barred by %+v", i, bar)
		}
	}
}
