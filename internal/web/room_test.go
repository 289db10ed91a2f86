package web

import (
	"context"
	"net/http"
	"strings"
	"testing"

	"hopperful/shop"
)

// The upkeep page says what each part has done; damage marks lots on their own pages.
func TestUpkeepPage(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := b.get("/machines/Rattle/upkeep")
	page := w.Body.String()
	if w.Code != http.StatusOK {
		t.Fatalf("it answers %d", w.Code)
	}
	for _, want := range []string{"The parts", "bearings", "Write down a look", "Pull the plug"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if page := b.get("/machines").Body.String(); !strings.Contains(page, "/machines/Rattle/upkeep") {
		t.Error("the machines do not lead to it")
	}
	if _, err := b.store.Append(context.Background(), noon, shop.Record{Body: &shop.Serviced{Mill: "Rattle", Part: shop.BearingPart, What: shop.FoundDamaged, Sound: shop.No}}); err != nil {
		t.Fatal(err)
	}
	if page := b.get("/stock/R1").Body.String(); !strings.Contains(page, "was found damaged. Check it") {
		t.Error("the lot is not marked")
	}
	if page := b.get("/machines/Rattle/upkeep").Body.String(); !strings.Contains(page, "Lots it may have spoilt") {
		t.Error("the lots are not listed")
	}
	if w := b.get("/machines/Nobody/upkeep"); w.Code != http.StatusNotFound {
		t.Errorf("a mill nobody has answers %d", w.Code)
	}
}

// The pages of the rooms at the machine, on a phone, light and dark.
func TestRoomsLook(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), demoShop(t, Options{}))
	for name, path := range roomPages {
		w.look(390, 844, false)
		w.at(path)
		if ask[bool](w, `document.documentElement.scrollWidth > innerWidth`) {
			t.Errorf("%s is wider than the phone", path)
		}
		w.picture(name + "-phone")
		w.accessible(path, 390)
		w.look(1280, 900, true)
		w.at(path)
		w.picture(name + "-dark")
	}
}

// roomPages are the pages whose answer is a document and no more.
var roomPages = map[string]string{"upkeep": "/machines/Rattle/upkeep", "dose": "/dose"}
