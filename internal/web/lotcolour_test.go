package web

import (
	"context"
	"fmt"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/shop"
)

// tintedShop is the invented shop with a blend of two colours, its print, and the
// colour of the print.
func tintedShop(t testing.TB, code string) *bench {
	t.Helper()
	b := demoShop(t, Options{})
	for _, body := range []shop.Body{
		&shop.Blended{From: []shop.Portion{{Lot: "R2", Mass: 0.030}, {Lot: "R4", Mass: 0.006}}},
		&shop.Printed{From: "B3", Print: "colour chip", Mass: 0.008},
		&shop.Coloured{Lot: "P20", How: shop.CardPhoto, RGB: code},
	} {
		if _, err := b.store.Append(context.Background(), noon, shop.Record{Body: body}); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

// TestALotShowsItsColour: both ends with their names, codes and difference, what
// was seen beside what was forecast, and the same in a table.
func TestALotShowsItsColour(t *testing.T) {
	t.Parallel()
	b := tintedShop(t, "#e3a878")
	for path, want := range map[string][]string{
		"/stock/B3":  {"What it looks like", "melted well", "side by side", "colour-strip", "1 melted mix", "#efebdf", "#d26f2a", "/record/colour?lot=B3", "colour difference between melted well and side by side", "how far the true colour may be off"},
		"/stock/P20": {"as seen; its parents forecast", "#e3a878", "melted well, forecast by its parents", "colour difference between seen and forecast"},
		"/stock/R5":  {"#83868a", "photo beside a white card, record", "forecast by its parents"},
		"/stock/S3":  {"Nobody has taken the colour of S3", "/record/colour?lot=S3"},
	} {
		body := b.get(path).Body.String()
		for _, w := range want {
			if !strings.Contains(body, w) {
				t.Errorf("%s lacks %q", path, w)
			}
		}
	}
	if body := b.get("/stock/R5").Body.String(); strings.Contains(body, "side by side") || strings.Contains(body, "The lots behind it") {
		t.Error("a lot of one colour has two ends")
	}
	if body := b.get("/stock/S3").Body.String(); strings.Contains(body, "colour-strip") {
		t.Error("an unknown colour is drawn")
	}
}

// TestAStrangeColourIsAskedAboutOnThePage: once, where it is read.
func TestAStrangeColourIsAskedAboutOnThePage(t *testing.T) {
	t.Parallel()
	body := strings.ReplaceAll(tintedShop(t, "#2040c0").get("/stock/P20").Body.String(), "\u00a0", " ")
	if n := strings.Count(body, "P20 was seen"); n != 1 || !strings.Contains(body, "Is that right?") {
		t.Errorf("it is asked %d times", n)
	}
}

// TestHeapsHaveTheirTakenColour: on the shelf, once the colour was taken, and
// again as before when it was struck out.
func TestHeapsHaveTheirTakenColour(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	stock := func() string {
		_, page, _ := strings.Cut(b.get("/stock").Body.String(), "<main")
		return page
	}
	before := stock()
	kept, err := b.store.Append(context.Background(), noon, shop.Record{Body: &shop.Coloured{Lot: "R1", How: shop.CardPhoto, RGB: "#12e45a"}})
	if err != nil {
		t.Fatal(err)
	}
	d := &desk.Desk{State: b.store.State(), Say: say.For(), Palette: &desk.Palette{}}
	if c := d.PaintOf("R1").String(); c != "#12e45a" {
		t.Errorf("R1 is drawn %s", c)
	}
	if stock() == before {
		t.Error("the shelf looks as before")
	}
	if _, err := b.store.Append(context.Background(), noon, shop.Record{Corrects: kept[0].ID, Body: &shop.Void{Why: "x"}}); err != nil {
		t.Fatal(err)
	}
	if stock() != before {
		t.Error("the shelf still has the colour that was struck out")
	}
	if c := (&desk.Desk{State: b.store.State(), Say: say.For()}).PaintOf("S2").String(); c != "#f1efe9" {
		t.Errorf("without a palette S2 is drawn %s", c)
	}
}

// TestThePaletteServesManyAtOnce: pages of several states, side by side.
func TestThePaletteServesManyAtOnce(t *testing.T) {
	t.Parallel()
	b := tintedShop(t, "#e3a878")
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			if i%4 == 3 {
				_, err := b.store.Append(context.Background(), noon.Add(time.Duration(i)*time.Second), shop.Record{Body: &shop.Coloured{Lot: "R1", How: shop.CardPhoto, RGB: fmt.Sprintf("#10101%d", i)}})
				if err != nil {
					t.Error(err)
				}
			}
			for _, path := range []string{"/stock", "/stock/B3", "/stock/P20"} {
				if w := b.get(path); w.Code != http.StatusOK {
					t.Errorf("%s answers %d", path, w.Code)
				}
			}
		})
	}
	all.Wait()
}

// TestTheColourOfALotFitsAPhone looks at the page in a real browser.
func TestTheColourOfALotFitsAPhone(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), tintedShop(t, "#e3a878"))
	for _, size := range []struct {
		name string
		wide int64
	}{{"phone", 390}, {"desk", 1280}} {
		w.look(size.wide, 900, false)
		for _, path := range []string{"/stock/B3", "/stock/P20"} {
			w.at(path)
			if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > size.wide {
				t.Errorf("%s is %d px wide on %d", path, wide, size.wide)
			}
			for _, small := range ask[[]string](w, smallTargets) {
				t.Errorf("%s: %s", path, small)
			}
			w.picture("lotcolour-" + size.name + strings.ReplaceAll(path, "/", "-"))
		}
		w.look(size.wide, 16000, false)
		w.at("/stock/P20")
		w.do("axe", chromedp.Evaluate[chromedp.Void](`document.querySelectorAll(".lot-colour details").forEach(d => { d.open = true })`), chromedp.Evaluate[chromedp.Void](axe))
		for _, v := range ask[[]string](w, strings.Replace(axeLight, "document", `".lot-colour"`, 1)) {
			t.Errorf("%d px: %s", size.wide, v)
		}
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// BenchmarkStock is the stock page of the invented shop, whose heaps are drawn in
// the colours of the records.
func BenchmarkStock(b *testing.B) {
	shop := tintedShop(b, "#e3a878")
	for b.Loop() {
		if w := shop.get("/stock"); w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
}
