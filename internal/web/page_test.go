package web

import (
	"net/http"
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/sheets"
)

// everyPage lists the addresses of a filled shop.
func everyPage(b *bench) []string {
	st := b.store.State()
	paths := []string{"/", "/stock", "/stock?empty=1", "/records", "/records/1", "/plan", "/machines", "/materials", "/fit", "/reckon",
		"/start/mill", "/start/scale", "/start/scrap", "/start/need", "/record/material?polymer=PLA&property=density"}
	for what := range sheets.All {
		if what != "material" {
			paths = append(paths, "/record/"+what)
		}
	}
	for _, id := range st.Order {
		paths = append(paths, address.Lot(id), address.Family(id), "/dry/"+string(id))
	}
	for _, n := range st.Needs {
		paths = append(paths, address.Plan(n.Name), "/fit?need="+address.Query(n.Name))
	}
	for _, m := range st.Mills {
		paths = append(paths, address.Learned(m.Name))
	}
	for _, r := range st.Records.All() {
		paths = append(paths, "/records/"+address.Number(r.ID)+"/correct")
	}
	table := (&desk.Desk{State: st, Say: say.For()}).Materials()
	for _, name := range table.Names() {
		paths = append(paths, "/materials/"+address.Segment(name))
	}
	return paths
}

func TestEveryPageOfAFilledShopIsDrawn(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := shopToLookAt(t)
	for _, path := range everyPage(b) {
		w := b.get(path)
		if w.Code != http.StatusOK {
			t.Errorf("%s answers %d: %s", path, w.Code, firstHeading(w.Body.String()))
			continue
		}
		body := w.Body.String()
		for _, bad := range []string{"<nil>", "%!", "NaN", "ZgotmplZ", "0001-01-01", "1 Jan 0001"} {
			if strings.Contains(body, bad) {
				t.Errorf("%s shows %q", path, bad)
			}
		}
		if strings.Count(body, "<h1") != 1 {
			t.Errorf("%s has %d headings of the first order", path, strings.Count(body, "<h1"))
		}
	}
}

// firstHeading is what a page says, for a failing test.
func firstHeading(body string) string {
	_, after, _ := strings.Cut(body, "<h1>")
	text, _, _ := strings.Cut(after, "</h1>")
	return text
}
