package plan_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"hopperful/internal/checkrow"
	"hopperful/plan"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// Whole plans of a mill without runs and with a few rough ones are as approved. Tuning moves them, and so does a
// book: they only notice that something moved, -run AsApproved -update keeps what was looked at.
func TestPlansAreAsApproved(t *testing.T) {
	t.Parallel()
	for runs, mass := range map[int]float64{0: 0.15, 3: 0.4} {
		req := bracket(mass, "PLA")
		req.Draws = 12
		checkrow.Approved(t, fmt.Sprint("plan", runs), grind(t, workshop(t, runs), req))
	}
}

// What three runs taught, as approved.
func TestLessonsAreAsApproved(t *testing.T) {
	t.Parallel()
	checkrow.Approved(t, "learned", learnOf(t, workshop(t, 3), "Kettle"))
}

func learnOf(t *testing.T, s *shop.State, mill string) plan.Learning {
	t.Helper()
	l, err := plan.Learn(s, mill)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

type question struct {
	shop *shop.State
	req  plan.Request
}

// shops of all kinds, each with a question: stalled, warm, late, too little, of several plastics, hardly described.
func questions(t *testing.T) map[string]question {
	p, ask := shoptest.P, func(mass float64, polymer string, change func(*plan.Request)) plan.Request {
		r := bracket(mass, polymer)
		if r.Draws = 12; change != nil {
			change(&r)
		}
		return r
	}
	weak := shoptest.Mill()
	weak.Controller.Continuous = p(10)
	level := 14
	stalled := noted(t, kettle(), 3, func(i int, b *shop.Ground) {
		if i == 2 {
			b.Stalled, b.Product, b.Swept, b.Run = true, p(0), p(0.12), 5
		}
	})
	warm := shoptest.Bin(t, &shop.ShopSet{Name: "Shed", Handling: p(200), RoomTemperature: p(299), ElectricityPrice: p(1e-7), Currency: "EUR"}, shoptest.Scrap("PLA", "black", 3),
		&shop.Ground{Mill: "Rattle", From: "S1", Into: "R9", Charge: 0.1, Product: p(0.09), Left: p(0.006), Swept: p(0.001), Run: 150, Level: &level, WallBefore: p(300), WallAfter: p(318), ChargeAfter: p(325), Energy: p(6e4), Room: p(299)})
	bare := shoptest.Bin(t, &shop.MillSet{Mill: shop.Mill{Name: "Bare"}}, shoptest.Scrap("PLA", "black", 3))
	busy := shoptest.Busy(t, rand.New(rand.NewPCG(2, 1)))
	at := shoptest.Noon.Add(90 * time.Minute)
	return map[string]question{
		"ordinary": {worked(t, "PLA"), ask(0.3, "PLA", nil)},
		"petg": {worked(t, "PETG"), ask(0.5, "PETG", func(r *plan.Request) {
			r.Also = []shop.Need{{Name: "lid", From: "typed", Mass: p(0.1), Polymer: "PETG"}}
		})},
		"tough":          {worked(t, "PC"), ask(0.2, "PC", nil)},
		"too little":     {worked(t, "PLA"), ask(1.6, "PLA", nil)},
		"late":           {worked(t, "PLA", shoptest.Scrap("PLA", "black", 3)), ask(0.6, "PLA", func(r *plan.Request) { r.By = shoptest.Noon.Add(4 * time.Minute) })},
		"in time":        {worked(t, "PLA"), ask(0.2, "PLA", func(r *plan.Request) { r.By = shoptest.Noon.Add(20 * time.Hour) })},
		"weak":           {shoptest.Bin(t, &shop.MillSet{Mill: weak}, shoptest.Scrap("PLA", "black", 3)), ask(0.6, "PLA", nil)},
		"stalled":        {stalled, ask(0.5, "PLA", func(r *plan.Request) { r.Lots = []shop.LotID{"S1"} })},
		"noted":          {noted(t, kettle(), 4, nil), ask(0.5, "PLA", func(r *plan.Request) { r.Moved = true })},
		"warm":           {warm, ask(0.4, "PLA", func(r *plan.Request) { r.Now = shoptest.Noon.Add(-20 * time.Minute) })},
		"bare":           {bare, ask(0.2, "PLA", nil)},
		"another colour": {worked(t, "PLA"), ask(0.2, "PLA", func(r *plan.Request) { r.Colour = "white" })},
		"the rest":       {workshop(t, 2), ask(0.6, "PLA", func(r *plan.Request) { r.Make = p(0.15) })},
		"busy":           {busy, ask(0.4, "PETG", func(r *plan.Request) { r.Now = at })},
	}
}

// Plans and lessons of many shops, part by part as a line each, as approved.
func TestManyPlansAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	all := questions(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		g, err := plan.Grind(all[name].shop, all[name].req)
		if err != nil {
			t.Fatal(name, err)
		}
		fmt.Fprintf(&out, "%s: %s possible %t\n", name, g.Says.Code, g.Possible)
		for _, part := range []any{g.Says, g.Setting, g.Need, g.Product, g.Limits, g.Balance, g.Figures, g.Steps, g.Charts, g.Take, g.OnHand, g.Aside, g.Trial, g.Blocked, g.Moved, g.Spoilers, g.Next, g.Document()} {
			fmt.Fprintf(&out, "  %s\n", checkrow.Whole(t, part))
		}
	}
	checkrow.ApprovedText(t, "plans", out.String())
}

func TestManyLessonsAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for _, name := range []string{"stalled", "warm", "petg", "bare"} {
		s := questions(t)[name].shop
		l := learnOf(t, s, s.Mills[len(s.Mills)-1].Mill.Name)
		fmt.Fprintf(&out, "%s: %d runs\n", name, l.Runs)
		for _, part := range []any{l.Parameters, l.Forecasts, l.Calibration, l.Suspicious, l.Changed, l.Unread, l.Wear, l.Document()} {
			fmt.Fprintf(&out, "  %s\n", checkrow.Whole(t, part))
		}
	}
	checkrow.ApprovedText(t, "lessons", out.String())
}
