package next_test

import (
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
