package web

import (
	"net/http"
	"strings"
	"testing"

	"hopperful/internal/exchange"
)

// Everything can be taken away from the machines page, in three forms.
func TestEverythingCanBeTakenAway(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	page := b.get("/machines").Body.String()
	for _, name := range []string{"shop.jsonl", "shop.csv", "shop.xlsx"} {
		w := b.get("/export/" + name)
		if !strings.Contains(page, `href="/export/`+name+`"`) || w.Code != http.StatusOK || !strings.Contains(w.Header().Get("Content-Disposition"), name) {
			t.Errorf("%s: %d, %v", name, w.Code, w.Header())
		}
	}
	records, err := exchange.ReadLines("shop.jsonl", b.get("/export/shop.jsonl").Body, -1)
	if err != nil || len(records) != b.store.State().History.Len() {
		t.Errorf("%d records: %v", len(records), err)
	}
	if w := b.get("/export/shop.doc"); w.Code != http.StatusNotFound {
		t.Errorf("status %d", w.Code)
	}
}
