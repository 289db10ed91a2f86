package fit_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"hopperful/figure"
	"hopperful/internal/checkrow"
	"hopperful/plan/fit"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// What the numbers of a check are called, follow from and stand on, for some of the odd lots, as approved: sums of an answer leave it out.
func TestNamesOfNumbersAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	told := func(f figure.Figure) {
		fmt.Fprintf(&out, "  %s %s %s %s %d runs, records %v;", f.Key, f.Name, strings.ReplaceAll(f.How, " ", "_"), strings.ReplaceAll(string(f.Basis), " ", "_"), f.Runs, f.Records)
		if f.Limit != nil {
			fmt.Fprintf(&out, " %s", f.Limit.Name)
		}
		for _, x := range f.Inputs {
			fmt.Fprintf(&out, " %s", x.Key)
		}
		for _, x := range f.Sources {
			fmt.Fprintf(&out, " %s", strings.ReplaceAll(x.Key, " ", "_"))
		}
		for _, w := range f.Warnings {
			fmt.Fprintf(&out, " %s", w)
		}
		out.WriteString("\n")
	}
	for k, x := range oddLots() {
		if k%5 != 2 && x.name != "old and damp" && x.name != "a turn entered" && x.name != "its like printed" && x.name != "lent law" && x.name != "dusty by its own limit" {
			continue
		}
		x.req.Draws = 2
		if x.req.Now.IsZero() {
			x.req.Now = shoptest.Noon.Add(3 * time.Hour)
		}
		if !x.wet {
			x.of = append(x.of, &shop.Dried{Lot: x.req.Lot, Way: shop.DryAir, Temperature: 318.15, Time: 48 * 3600})
		}
		f, err := fit.Judge(shoptest.Bin(t, x.of...), x.req)
		if err != nil {
			t.Fatal(x.name, err)
		}
		fmt.Fprintf(&out, "%s\n", x.name)
		for _, i := range f.Items {
			told(*i.Figure)
		}
		for _, s := range f.Settings {
			told(s)
		}
		for _, s := range f.Document.Reasons {
			fmt.Fprintf(&out, "  %s of %d figures and %d notes\n", s.Key, len(s.Figures), len(s.Notes))
		}
	}
	checkrow.ApprovedText(t, "named", strings.NewReplacer("[", "", "]", "").Replace(out.String()))
}
