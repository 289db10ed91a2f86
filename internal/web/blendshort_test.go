package web

import (
	"fmt"
	"html"
	"math"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"hopperful/internal/web/prints"
	"hopperful/shop"
)

// TestMoreThanALotHoldsIsSaidWhileItIsWeighed types more than the lot has: the page
// refuses at the field, keeps what was typed, and each way out leads on.
func TestMoreThanALotHoldsIsSaidWhileItIsWeighed(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	lot, _ := b.store.State().Lot("R2")
	has, digit := lot.Mass*1000, b.store.State().Resolution(lot.Mass)*1000
	const at = "/blend/-/weigh?mass_kg=200+g&polymer=PLA&take=R2%3A0.03%2CR1%3A0.12%2CV1%3A0.07"
	shows := func(grams float64) string { return fmt.Sprintf("%s&lot=R2&shows=%.4f", at, grams) }
	// What the scale's digit forgives, a record may take and the page lets go by.
	if w := b.get(shows(has + digit)); w.Code != http.StatusSeeOther {
		t.Errorf("a digit more than it has answers %d", w.Code)
	}
	typed := has + 40 // more than rounding and spilling can add up to
	w := b.get(shows(typed))
	body := html.UnescapeString(w.Body.String())
	if w.Code != http.StatusUnprocessableEntity {
		t.Fatalf("more than it has answers %d", w.Code)
	}
	for _, want := range []string{fmt.Sprintf(`value="%.4f"`, typed), `id="shows-wrong"`, "Check the scale", "and the lot has only "} {
		if !strings.Contains(body, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	ways := regexp.MustCompile(`<li><span>[^<]*</span> <a class="button" href="([^"]+)">([^<]+)<`).FindAllStringSubmatch(body, -1)
	if len(ways) != 2 || ways[0][2] != "Recount R2" {
		t.Fatalf("the ways out are %q", ways)
	}
	// All the lot has goes in, and the rest is made up from the others.
	next := b.get(ways[1][1])
	if put := regexp.MustCompile(`name="put" value="([^"]+)"`).FindStringSubmatch(next.Body.String()); next.Code != http.StatusOK || put == nil {
		t.Fatalf("to go on answers %d", next.Code)
	} else if in, ok := prints.ReadWeighed(html.UnescapeString(put[1])); !ok || len(in) != 1 || math.Abs(in[0].Mass-lot.Mass) > 1e-6 {
		t.Errorf("%v is in the bucket, the lot has %g kg", in, lot.Mass)
	}
	// The recount leads back to what was typed, which now goes in.
	u, err := url.Parse(ways[0][1])
	if err != nil {
		t.Fatal(err)
	}
	back := b.post(u.Path, url.Values{"lot": {"R2"}, "mass_kg": {fmt.Sprintf("%.3f g", typed+20)}, "next": {u.Query().Get("next")}})
	if back.Code != http.StatusSeeOther || b.store.State().Newest().Body.Kind() != new(shop.Weighed).Kind() {
		t.Fatalf("the recount answers %d", back.Code)
	}
	if w := b.get(back.Header().Get("Location")); w.Code != http.StatusSeeOther || !strings.Contains(w.Header().Get("Location"), "put=R2") {
		t.Errorf("after the recount, what was typed answers %d to %q", w.Code, w.Header().Get("Location"))
	}
}
