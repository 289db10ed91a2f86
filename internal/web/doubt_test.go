package web

import (
	"fmt"
	"net/http"
	"strings"
	"testing"
)

// TestAJarTooHeavyIsAskedAbout writes down 188 g in 200 ml, which loose granules
// of PLA cannot weigh, and looks for the question on the pages of record and lot.
func TestAJarTooHeavyIsAskedAbout(t *testing.T) {
	t.Parallel()
	b := emptyShop(t, Options{})
	b.post("/record/take-in", answers("class", "regrind", "polymer", "PLA", "mass_kg", "400 g"))
	if w := b.post("/record/jar", answers("lot", "R1", "jar_m3", "200 ml", "poured_kg", "188 g")); w.Code != http.StatusSeeOther {
		t.Fatalf("answers %d: %s", w.Code, said422(w.Body.String()))
	}
	for _, path := range []string{fmt.Sprintf("/records/%d", b.store.State().Newest().ID), "/stock/R1"} {
		if page := b.get(path).Body.String(); !strings.Contains(page, "Is that right?") || !strings.Contains(page, "denser than") {
			t.Errorf("%s does not ask", path)
		}
	}
}
