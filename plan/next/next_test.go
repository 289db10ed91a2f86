package next_test

import (
	"strings"
	"testing"

	"hopperful/plan/next"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// places are where the advices of a shop lead, with what.
func places(s *shop.State) string {
	var all []string
	for _, a := range next.Of(s) {
		all = append(all, strings.TrimSpace(string(a.To)+" "+a.Ref))
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
		{"empty", empty, "mill, scale, take_in, need"},
		{"a mill and a scale", shoptest.Bin(t), "take_in, need"},
		{"scrap", shoptest.Bin(t, shoptest.Scrap("PLA", "black", 1)), "need"},
		{"prints wanted", shoptest.Bin(t, shoptest.Scrap("PLA", "black", 1), need(shop.Need{Name: "hook"}), need(shop.Need{Name: "foot", RGB: "#c98a5c"}), need(shop.Need{Name: "old", Done: true})),
			"plan hook, blend foot"},
		{"what is in the way", shoptest.Bin(t, unknown, suspect, metal, need(shop.Need{Name: "hook"})), "plan hook, identify S1, lot S2, lot S3"},
		{"all done", shoptest.Bin(t, shoptest.Scrap("PLA", "black", 1), need(shop.Need{Name: "old", Done: true})), "need"},
	} {
		if got := places(c.s); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
	for _, a := range next.Of(shoptest.Bin(t, unknown)) {
		if a.Do == "" || a.Why == "" {
			t.Errorf("got %+v", a)
		}
	}
}
