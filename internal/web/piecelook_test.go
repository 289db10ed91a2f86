package web

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	finger "github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"hopperful/shop"
)

// tap puts a finger on the first link or button that says so, where a finger
// would: it must be seen, be 48 px high at least, and be covered by nothing.
func (w *tab) tap(says string) {
	w.t.Helper()
	at := ask[[]float64](w, fmt.Sprintf(`(() => {
		const e = [...document.querySelectorAll("main a, main button")].find(e => e.textContent.trim() === %q && e.checkVisibility());
		if (!e) return [];
		e.scrollIntoView({block: "center"});
		const r = e.getBoundingClientRect(), x = r.left + r.width / 2, y = r.top + r.height / 2;
		return [x, y, r.height, document.elementFromPoint(x, y) === e ? 1 : 0]; })()`, says))
	if len(at) == 0 {
		w.t.Fatalf("nothing on %q says %q", w.heading(), says)
	}
	if at[2] < 47.5 || at[3] != 1 {
		w.t.Errorf("%q is %g px high, free to touch: %v", says, at[2], at[3] == 1)
	}
	before := ask[string](w, `location.href`)
	w.do("tap "+says, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true}); err != nil {
			return err
		}
		for _, move := range []finger.DispatchTouchEventParams{
			{Type: finger.DispatchTouchEventTypeTouchStart, TouchPoints: []*finger.TouchPoint{{X: at[0], Y: at[1]}}}, {Type: finger.DispatchTouchEventTypeTouchEnd, TouchPoints: []*finger.TouchPoint{}},
		} {
			if _, err := cdp.Call(ctx, t, finger.DispatchTouchEvent, move); err != nil {
				return err
			}
		}
		return nil
	}))
	w.until("a page follows "+says, `document.readyState === "complete" && location.href !== "`+before+`"`)
}

// question is what the card asks.
func (w *tab) question() string {
	w.t.Helper()
	return ask[string](w, `document.querySelector(".card h2").textContent.trim()`)
}

// TestAnUnknownLotIsNamedByTouch goes the whole way on a phone: from the lot
// nobody knows to the plastic written down, and back.
func TestAnUnknownLotIsNamedByTouch(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := demoShop(t, Options{})
	w := open(t, oneBrowser(t), b)
	w.look(390, 844, false)
	w.at("/stock/S7")
	w.tap("What is it?")
	if q := w.question(); q != "Does anything speak of chlorine?" {
		t.Fatalf("first it asks %q", q)
	}
	w.picture("piece-1-chlorine-phone")
	w.tap("No")
	w.tap("I cannot do this") // no pliers at hand
	first := w.question()
	for range 16 { // a solid chip of PLA: limp in hot water, snaps, not rubbery, no wax
		q := w.question()
		switch {
		case strings.Contains(q, "put off"):
			w.tap("Take them up again")
		case strings.Contains(q, "70 °C"), strings.Contains(q, "snap instead"), strings.Contains(q, "ring like glass"), strings.Contains(q, "begin to stick"):
			w.tap("Yes")
		case strings.Contains(q, "solid chip of it"):
			w.tap("Yes, solid")
		case strings.Contains(q, "1.255"), strings.Contains(q, "1.30"):
			w.tap("It floats")
		case strings.Contains(q, "float"):
			w.tap("It sinks")
		default:
			w.tap("No")
		}
		if strings.HasPrefix(w.heading(), "Yes: PLA") {
			break
		}
	}
	if h := w.heading(); !strings.HasPrefix(h, "Yes: PLA") {
		t.Fatalf("after all it says %q; it began with %q", h, first)
	}
	if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("the page is %d px wide on a phone", wide)
	}
	w.picture("piece-2-likely-phone")
	said := w.heading()
	w.do("reload", chromedp.Reload())
	w.until("it is the same after reloading", `document.querySelectorAll(".found-list li").length > 0`)
	if h := w.heading(); h != said {
		t.Errorf("after reloading it says %q, it said %q", h, said)
	}
	w.tap("Write it down")
	if h := w.heading(); h != "842 g of mixed PLA scrap." {
		t.Errorf("the lot says %q", h)
	}
	w.do("take back", chromedp.Click(chromedp.CSS(`.done-bar button`)))
	w.until("the records are shown", `document.querySelector("h1").textContent === "Records"`)
	if l, _ := b.store.State().Lot("S7"); l.Mass != 0.842 || l.Polymer != "" {
		t.Errorf("S7 is %+v after taking back", l)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// TestAnUnknownLotIsNamedByKeyboard does the same without a pointer.
func TestAnUnknownLotIsNamedByKeyboard(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := demoShop(t, Options{})
	w := open(t, oneBrowser(t), b)
	w.at("/identify/S7")
	enter := func(says string) {
		t.Helper()
		before := ask[string](w, `location.href`)
		w.tabTo(says)
		w.do(says, chromedp.KeyEvent(kb.Enter))
		w.until("a page follows "+says, `document.readyState === "complete" && location.href !== "`+before+`"`)
	}
	enter("No")  // chlorine
	enter("Yes") // it snaps
	for range 6 {
		if strings.HasPrefix(w.heading(), "Yes: PLA") {
			break
		}
		if q := w.question(); strings.Contains(q, "70 °C") || strings.Contains(q, "ring") {
			enter("Yes")
		} else {
			enter("I cannot do this")
		}
	}
	enter("Write it down")
	if l := b.store.State().Lots.At(b.store.State().Order[len(b.store.State().Order)-1]); l.Polymer != "PLA" || l.Class != shop.Scrap {
		t.Errorf("the newest lot is %+v", l)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// TestThePagesOfAPieceAreAccessible looks at them on phone and desk, light and
// dark, with everything that opens opened.
func TestThePagesOfAPieceAreAccessible(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	for i, page := range []struct{ name, path string }{
		{"piece-first", "/identify/S7"},
		{"piece-tests", query("/identify/S7", "chlorine", "no", "solid", "yes", "found", "limp70=no", "found", "acetone=no")},
		{"piece-stop", query("/identify/S7", "chlorine", "yes")},
		{"piece-hollow", query("/identify/S7", "solid", "no", "found", "floats water=yes")},
		{"piece-wrong", query("/identify/S7", "chlorine", "no", "add", "floats", "liquid", "brine", "strength", "90", "chip", "yes", "answer", "no")},
		{"liquid", query("/identify/liquid", "liquid", "ethanol", "density", "0.93")},
		{"mixed", query("/identify/mixed", "lot", "S5", "host", "PETG", "stray", "PP", "pieces", "60", "wrong", "3", "in", "water")},
	} {
		name, path := page.name, page.path
		for j, width := range []int64{390, 1280} {
			w.look(width, 844, false)
			w.at(path)
			w.picture(name + map[int64]string{390: "-phone", 1280: "-desk"}[width])
			if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > width {
				t.Errorf("%s is %d px wide on a window of %d px", name, wide, width)
			}
			for _, small := range ask[[]string](w, smallTargets) {
				t.Errorf("%s: %s", name, small)
			}
			if i%2 == j { // in turn, as all pages: the parts are the same at both widths
				w.accessible(path, width)
			}
		}
		w.look(390, 844, true)
		w.picture(name + "-phone-dark")
	}
}
