package campaign

// What is told of a campaign: worries, what was made and its charges, by hand.

import (
	"testing"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// of is a campaign that wants so much, of which runs are on record, carried on as the shop does.
func of(t *testing.T, wanted float64, products ...*float64) (*shop.State, shop.Campaign) {
	t.Helper()
	level := 2
	m := shoptest.Mill()
	all := []shop.Body{shoptest.Scrap("PLA", "black", 9), &shop.MillSet{Mill: m}, &shop.CampaignBegun{Mill: "Rattle", Polymer: "PLA", Wanted: wanted, Cycle: shop.Cycle{Charge: 0.1, Run: 60, Rest: 120, Charges: 5}}}
	for i, p := range products {
		g := &shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.1, Product: p, Run: 60}
		if i == 0 {
			g.Level = &level
		}
		all = append(all, g)
	}
	s := shoptest.Bin(t, all...)
	for _, c := range s.Campaigning() {
		return s, c
	}
	t.Fatal("no campaign")
	return nil, shop.Campaign{}
}

// What was made is held against what is wanted: enough or not, and which of it was weighed.
func TestWhatWasMade(t *testing.T) {
	t.Parallel()
	p := shoptest.P
	for i, c := range []struct {
		wanted   float64
		products []*float64
		holds    float64
	}{{0.5, []*float64{p(0.09)}, 0}, {0.09, []*float64{p(0.09)}, 1}, {0.15, []*float64{p(0.09), p(0.09)}, 1}, {0.19, []*float64{p(0.09), p(0.09)}, 0}} {
		s, campaign := of(t, c.wanted, c.products...)
		f := (&told{state: s, c: campaign}).made()
		if f.Limit == nil || f.Limit.Holds != c.holds || f.Limit.Value != c.wanted || len(f.Records) != len(c.products) {
			t.Errorf("case %d: %g kg, %+v", i, f.Value, f.Limit)
		}
	}
	s, campaign := of(t, 0.5, p(0.09), nil, p(0.08))
	k := &told{state: s, c: campaign}
	if f := k.made(); f.How == "" {
		t.Errorf("%+v", f)
	}
	k.charges()
	if len(k.doc.Tables) != 1 || len(k.doc.Tables[0].Rows) != 3 {
		t.Fatalf("%+v", k.doc.Tables)
	}
	for i, row := range k.doc.Tables[0].Rows {
		if row[0].Value != float64(i+1) || row[1].Value != 0.1 || row[3].Value != 60 || (row[4].Value == 2) != (i == 0) || row[5].Value != float64(campaign.Runs[i]) {
			t.Errorf("row %d: %+v", i, row)
		}
	}
	if got := recordNumber(12); got != "12" {
		t.Errorf("record %s", got)
	}
}

// The last charge is looked at from the first on.
func TestWhichChargeWasTheLast(t *testing.T) {
	t.Parallel()
	s, c := of(t, 0.05, shoptest.P(0.09)) // enough, so that nothing is planned
	if a, err := Plan(s, c.ID, shoptest.Noon); err != nil || a.Last == nil || a.Possible {
		t.Errorf("%+v, %v", a, err)
	}
}

// What happened and needs a look: noise, a stall, a sheet that was skipped before the first charge, charges not weighed.
func TestWorriesOfACampaign(t *testing.T) {
	t.Parallel()
	s, open := of(t, 0.5)
	_, begun := of(t, 0.5, shoptest.P(0.09))
	for name, c := range map[string]struct {
		c    shop.Campaign
		set  func(*shop.Campaign)
		code string
	}{
		"nothing": {open, func(*shop.Campaign) {}, ""}, "noise": {open, func(c *shop.Campaign) { c.Noise = true }, "campaign.noise_heard"}, "stall": {open, func(c *shop.Campaign) { c.Stalled = true }, "campaign.stalled"},
		"skipped": {open, func(c *shop.Campaign) { c.Skipped = true }, "campaign.sheet_skipped"}, "skipped, and ran": {begun, func(c *shop.Campaign) { c.Skipped = true }, ""}, "ran": {begun, func(*shop.Campaign) {}, ""},
		"one not weighed": {begun, func(c *shop.Campaign) { c.Unweighed = 1 }, "campaign.unweighed"},
	} {
		c.set(&c.c)
		k := &told{state: s, c: c.c}
		k.worries()
		switch {
		case c.code == "" && len(k.doc.Spoilers) > 0, c.code != "" && (len(k.doc.Spoilers) != 1 || k.doc.Spoilers[0].Code != c.code):
			t.Errorf("%s: %+v", name, k.doc.Spoilers)
		}
		if len(k.doc.Cautions) < 5 {
			t.Errorf("%s: %d cautions", name, len(k.doc.Cautions))
		}
	}
}
