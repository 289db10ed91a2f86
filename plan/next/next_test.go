package next_test

import (
	"fmt"
	"strings"
	"testing"

	"hopperful/plan/next"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// steps are the codes of what a shop is told to do, with what they are about.
func steps(s *shop.State) string {
	var all []string
	for _, a := range next.Of(s).Steps {
		text := strings.TrimPrefix(a.Do.Code, "do.")
		for _, f := range a.Do.Facts {
			text += " " + f.Text
		}
		all = append(all, text)
	}
	return strings.Join(all, ", ")
}

func TestAdviceFollowsTheShop(t *testing.T) {
	t.Parallel()
	empty, err := shop.Fold(nil)
	if err != nil {
		t.Fatal(err)
	}
	need := func(n shop.Need) *shop.NeedSet {
		n.From, n.Mass, n.Polymer = "typed", shoptest.P(0.2), "PLA"
		return &shop.NeedSet{Need: n}
	}
	unknown, suspect, metal := shoptest.Scrap("", "grey", 1), shoptest.Scrap("ABS", "black", 1), shoptest.Scrap("PLA", "black", 1)
	suspect.Halogen, metal.Metal = shop.Yes, "brass inserts"
	for _, c := range []struct {
		name string
		s    *shop.State
		want string
	}{
		{"empty", empty, "describe_mill, describe_scale, take_in, say_need"},
		{"a mill and a scale", shoptest.Bin(t), "take_in, say_need"},
		{"scrap", shoptest.Bin(t, shoptest.Scrap("PLA", "black", 1)), "say_need"},
		{"prints wanted", shoptest.Bin(t, shoptest.Scrap("PLA", "black", 1), need(shop.Need{Name: "hook"}), need(shop.Need{Name: "foot", RGB: "#c98a5c"}), need(shop.Need{Name: "old", Done: true})),
			"plan hook, find_recipe foot"},
		{"what is in the way", shoptest.Bin(t, unknown, suspect, metal, need(shop.Need{Name: "hook"})), "plan hook, identify S1, set_aside S2, cut_metal S3"},
		{"all done", shoptest.Bin(t, shoptest.Scrap("PLA", "black", 1), need(shop.Need{Name: "old", Done: true})), "say_next_need"},
	} {
		if got := steps(c.s); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	for _, a := range next.Of(shoptest.Bin(t, unknown)).Steps {
		if a.Do.Empty() || a.Why.Empty() {
			t.Errorf("got %+v", a)
		}
	}
}

// A record asked about is listed until it is answered; of many the newest are named.
func TestRecordsAskedAboutAreListed(t *testing.T) {
	t.Parallel()
	scrap := shoptest.Scrap("PLA", "black", 9)
	whole := shoptest.Bin(t, scrap, &shop.NeedSet{Need: shop.Need{Name: "old", From: "typed", Mass: shoptest.P(0.2), Polymer: "PLA", Done: true}})
	s := whole
	write := func(b shop.Body) {
		t.Helper()
		var err error
		if s, err = s.Admit(shoptest.Noon, shop.Record{At: shoptest.Noon, Body: b}); err != nil {
			t.Fatal(err)
		}
	}
	slip := func() shop.RecordID {
		write(&shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.9, Run: 120, Product: shoptest.P(0.89), Left: shoptest.P(0.005)})
		return s.Newest().ID
	}
	first := slip()
	one := fmt.Sprintf("answer_question %d", first)
	if got := steps(s); got != one {
		t.Fatalf("one slip: %s, want %s", got, one)
	}
	why := next.Of(s).Steps[0].Why
	for _, name := range []string{"what", "unless"} {
		if f, ok := why.Fact(name); why.Code != "next.asked_about" || !ok || len(f.Parts) != 1 { // one sentence a place
			t.Errorf("asks %+v", why)
		}
	}
	var all []string
	for range 4 {
		all = append([]string{fmt.Sprintf("answer_question %d", slip())}, all...)
	}
	if got, want := steps(s), strings.Join(append(all[:3:3], "answer_questions "), ", "); got != want {
		t.Errorf("five slips: %s, want %s", got, want)
	}
	for id := first; id < first+5; id++ {
		write(&shop.Confirmed{Record: id})
	}
	if got := steps(s); got != "say_next_need" {
		t.Errorf("answered: %s", got)
	}
}

// What a need wants is told as it was typed, a mass or a volume, and nothing where neither was.
func TestWhatANeedWants(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		need shop.Need
		want float64
	}{
		"mass":   {shop.Need{Mass: shoptest.P(0.24)}, 0.24},
		"volume": {shop.Need{Volume: shoptest.P(2e-4)}, 2e-4},
	} {
		for _, rgb := range []string{"", "#c98a5c"} {
			c.need.Name, c.need.From, c.need.Polymer, c.need.RGB = name, "typed", "PETG", rgb
			steps := next.Of(shoptest.Bin(t, shoptest.Scrap("PLA", "black", 1), &shop.NeedSet{Need: c.need})).Steps
			why := steps[0].Why
			if f, ok := why.Fact("wants"); rgb != "" {
				if !ok || len(f.Parts) != 1 {
					t.Fatalf("%s: %+v", name, why)
				}
				why = f.Parts[0]
			}
			if got, _ := why.Fact("amount"); got.Value != c.want || why.Text("polymer") != "PETG" {
				t.Errorf("%s: wants %+v", name, why)
			}
		}
	}
}

// A mill is weighed for what lies in it above 20 g, where a scale can see it; a head counts the steps, and
// of more than three records asked about the rest is a number.
func TestCountsOfWhatWaits(t *testing.T) {
	t.Parallel()
	old := &shop.NeedSet{Need: shop.Need{Name: "old", From: "typed", Mass: shoptest.P(0.2), Polymer: "PLA", Done: true}}
	for _, c := range []struct {
		left, digit float64
		want        string
	}{{0.02, 0.001, "say_next_need"}, {0.0201, 0.001, "weigh_mill Rattle "}, {0.0201, 0.03, "say_next_need"}} {
		s := shoptest.Bin(t, &shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: c.digit}}, shoptest.Scrap("PLA", "black", 9), old,
			&shop.Ground{Mill: "Rattle", From: "S1", Into: "R1", Charge: 0.2, Product: shoptest.P(0.2 - c.left), Left: shoptest.P(c.left), Run: 60})
		for _, x := range s.Scales { // the bench's own scale would see it
			if x.Name != "kitchen" {
				var err error
				if s, err = s.Admit(shoptest.Noon, shop.Record{At: shoptest.Noon, Body: &shop.ScaleSet{Scale: shop.Scale{Name: x.Name, Resolution: x.Resolution, Retired: true}}}); err != nil {
					t.Fatal(err)
				}
			}
		}
		if got := steps(s); !strings.HasPrefix(got+" ", c.want) {
			t.Errorf("%g kg in it on a scale of %g kg: %s, wanted %s", c.left, c.digit, got, c.want)
		}
		if n, ok := next.Of(s).Head.Fact("n"); !ok || int(n.Value) != len(next.Of(s).Steps) {
			t.Errorf("the head counts %+v", n)
		}
	}
	s := shoptest.Bin(t, shoptest.Scrap("PLA", "black", 9), old)
	for range 5 {
		var err error
		if s, err = s.Admit(shoptest.Noon, shop.Record{At: shoptest.Noon, Body: &shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.9, Run: 120, Product: shoptest.P(0.89), Left: shoptest.P(0.005)}}); err != nil {
			t.Fatal(err)
		}
	}
	all := next.Of(s).Steps
	if n, _ := all[len(all)-1].Do.Fact("n"); all[len(all)-1].Do.Code != "do.answer_questions" || n.Value != 2 {
		t.Errorf("of five the rest is %+v", all[len(all)-1].Do)
	}
	// A charge ten times too large was likely a slip of the point: what was meant stands before what would make it so.
	ten := next.Of(shoptest.Bin(t, shoptest.Scrap("PLA", "black", 4), old, &shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.9, Run: 120})).Steps
	if meant, _ := ten[0].Why.Fact("meant"); len(meant.Parts) != 1 || meant.Parts[0].Code != "plausibility.was_it" {
		t.Errorf("meant is %+v", meant)
	}
}

// A screen found damaged is to be replaced and told of once, before any other damaged part, which is to be
// mended; where the part was replaced nothing is told.
func TestDamagedPartsComeFirst(t *testing.T) {
	t.Parallel()
	seen := func(part shop.MillPart, what shop.Upkeep) *shop.Serviced {
		return &shop.Serviced{Mill: "Rattle", Part: part, What: what}
	}
	for name, c := range map[string]struct {
		bodies []shop.Body
		want   string
	}{
		"screen":   {[]shop.Body{seen(shop.ScreenPart, shop.FoundDamaged)}, "replace_screen Rattle"},
		"blade":    {[]shop.Body{seen(shop.BladePart, shop.FoundDamaged)}, "mend_part Rattle  blade"},
		"both":     {[]shop.Body{seen(shop.ScreenPart, shop.FoundDamaged), seen(shop.BladePart, shop.FoundDamaged)}, "replace_screen Rattle, mend_part Rattle  blade"},
		"replaced": {[]shop.Body{seen(shop.ScreenPart, shop.FoundDamaged), seen(shop.ScreenPart, shop.Replaced)}, "say_next_need"},
	} {
		old := &shop.NeedSet{Need: shop.Need{Name: "old", From: "typed", Mass: shoptest.P(0.2), Polymer: "PLA", Done: true}}
		if got := steps(shoptest.Bin(t, append([]shop.Body{shoptest.Scrap("PLA", "black", 9), old}, c.bodies...)...)); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
}

// A print whose campaign goes on is not to be planned anew; the others are.
func TestAPrintUnderWayIsNotPlannedAnew(t *testing.T) {
	t.Parallel()
	need := func(name string) *shop.NeedSet {
		return &shop.NeedSet{Need: shop.Need{Name: name, Polymer: "PLA", From: "typed", Mass: shoptest.P(0.2)}}
	}
	s := shoptest.Bin(t, shoptest.Scrap("PLA", "black", 4), need("vase"), need("pot"),
		&shop.CampaignBegun{Mill: "Rattle", Polymer: "PLA", Needs: []string{"vase"}, Wanted: 0.2, Cycle: shop.Cycle{Charge: 0.09, Run: 100, Rest: 300, Charges: 3}})
	var planned []string
	for _, step := range next.Of(s).Steps {
		if name, named := step.Do.Fact("need"); named && step.Do.Code == "do.plan" {
			planned = append(planned, name.Text)
		}
	}
	if len(planned) != 1 || planned[0] != "pot" {
		t.Errorf("to be planned are %v", planned)
	}
}
