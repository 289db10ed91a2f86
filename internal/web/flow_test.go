package web

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"hopperful/internal/demo"
)

// fill types an answer into a field of a sheet.
func fillIn(path, answer string) chromedp.Action[chromedp.Void] {
	return chromedp.SendKeys(chromedp.CSS(`[name="`+path+`"]`), answer)
}

// press presses the page's main button and waits for the page that follows.
func (w *tab) press(what string) {
	w.t.Helper()
	before := ask[string](w, `location.href`)
	w.do(what, chromedp.Click(chromedp.CSS(`button.main-act, a.main-act`)))
	w.until("a page follows "+what, `document.readyState === "complete" && (location.href !== "`+before+`" || !!document.querySelector(".wrong-box"))`)
}

func (w *tab) heading() string {
	w.t.Helper()
	return strings.ReplaceAll(ask[string](w, `document.querySelector("h1").textContent`), "\u00a0", " ")
}

// TestFromAnEmptyShopToARecordedCharge goes the whole way a newcomer goes, on a
// phone: mill, scale, scrap, a print's G-code, the plan, and the first charge.
func TestFromAnEmptyShopToARecordedCharge(t *testing.T) {
	t.Parallel()
	browser := oneBrowser(t)
	b := emptyShop(t, Options{})
	w := open(t, browser, b)
	w.look(390, 844, false)

	w.at("/")
	w.picture("flow-1-welcome")
	w.press("begin")
	w.do("mill", fillIn("mill.name", "Rattle"), fillIn("mill.rated_w", "1.5 kW"), fillIn("mill.chamber_m3", "2"), fillIn("mill.screen.hole_m", "4"))
	w.picture("flow-2-mill")
	w.press("mill")
	w.press("scale") // the default is a kitchen scale
	w.do("scrap", fillIn("mass_kg", "1850"), fillIn("polymer", "PLA"), fillIn("colour", "black"))
	w.picture("flow-3-scrap")
	w.press("scrap")

	folder := t.TempDir()
	if err := demo.WriteFiles(folder); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, "feet.3mf")
	if _, err := os.Stat(file); err != nil {
		t.Fatal(err)
	}
	w.do("need", chromedp.SetUploadFiles(chromedp.CSS(`[name="file"]`), []string{file}), fillIn("polymer", "PLA"))
	w.picture("flow-4-need")
	w.press("need")
	w.until("the plan is reckoned", `!document.querySelector("progress")`)
	if h := w.heading(); !strings.HasPrefix(h, "Try one charge first") {
		t.Fatalf("the plan says %q, a mill nobody has run begins with one charge", h)
	}
	w.picture("flow-5-plan")

	// The main act begins a campaign, which its own tests go through; whoever has ground already writes it down.
	w.do("looking down", chromedp.Evaluate[chromedp.Void](`document.querySelector('.others a[href^="/record/charge"]').scrollIntoView({block: "center"})`))
	w.do("record a charge", chromedp.Click(chromedp.CSS(`.others a[href^="/record/charge"]`)))
	w.until("the form of a charge follows", `document.readyState === "complete" && location.pathname === "/record/charge"`)
	w.do("charge", fillIn("charge_kg", "180"), fillIn("run_s", "3 min 20 s"), fillIn("product_kg", "171"))
	w.picture("flow-6-charge")
	w.press("charge")
	if h := w.heading(); h != "171 g of black PLA regrind." {
		t.Errorf("the new lot says %q", h)
	}
	w.picture("flow-7-lot")
	w.at("/stock")
	if h := w.heading(); h != "1.67 kg of scrap to grind, 171 g of granulate on the shelf." {
		t.Errorf("the stock says %q", h)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// TestATouchIsTakenBack presses the bar that appears after a record.
func TestATouchIsTakenBack(t *testing.T) {
	t.Parallel()
	browser := oneBrowser(t)
	b := demoShop(t, Options{})
	w := open(t, browser, b)
	before, _ := b.store.State().Lot("S1")
	w.at("/record/discard?lot=S1")
	w.do("discard", fillIn("mass_kg", "100"), fillIn("why", "burnt"))
	w.press("discard")
	if now, _ := b.store.State().Lot("S1"); now.Mass >= before.Mass {
		t.Fatal("nothing was thrown away")
	}
	w.picture("flow-8-take-back")
	w.do("take back", chromedp.Click(chromedp.CSS(`.done-bar button`)))
	w.until("the records are shown", `document.querySelector("h1").textContent === "Records"`)
	if now, _ := b.store.State().Lot("S1"); now.Mass != before.Mass {
		t.Errorf("the lot has %g kg after taking back, it had %g", now.Mass, before.Mass)
	}
}

// TestWithTheKeyboardAlone takes a lot in without a pointer, starting with the
// skip link.
func TestWithTheKeyboardAlone(t *testing.T) {
	t.Parallel()
	browser := oneBrowser(t)
	b := demoShop(t, Options{})
	w := open(t, browser, b)
	w.at("/stock")
	w.do("skip", chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter))
	if id := ask[string](w, `document.activeElement.id`); id != "main" {
		t.Fatalf("the skip link leads to %q", id)
	}
	w.tabTo("Take in material")
	w.do("enter", chromedp.KeyEvent(kb.Enter), chromedp.WaitReady(chromedp.CSS(`[name="mass_kg"]`)))
	w.tabTo("mass_kg")
	w.do("mass", chromedp.KeyEvent("640"))
	w.tabTo("polymer")
	w.do("polymer and send", chromedp.KeyEvent("ABS"), chromedp.KeyEvent(kb.Enter), chromedp.WaitReady(chromedp.CSS(`.lot-head`)))
	if h := w.heading(); h != "640 g of ABS scrap." {
		t.Errorf("the lot says %q", h)
	}
}

// tabTo moves on with the tab key until the wanted thing has the focus, and sees
// to it that the focus can be seen.
func (w *tab) tabTo(wanted string) {
	w.t.Helper()
	for range 60 {
		w.do("tab", chromedp.KeyEvent(kb.Tab))
		if ask[bool](w, `(document.activeElement.name === "`+wanted+`") || document.activeElement.textContent.trim() === "`+wanted+`"`) {
			if outline := ask[string](w, `getComputedStyle(document.activeElement).outlineStyle`); outline == "none" {
				w.t.Errorf("the focus on %s cannot be seen", wanted)
			}
			return
		}
	}
	w.t.Fatalf("%s cannot be reached with the tab key", wanted)
}

// TestASecondWindowLearnsOfARecord holds two windows open; what one writes, the
// other shows without being touched.
func TestASecondWindowLearnsOfARecord(t *testing.T) {
	t.Parallel()
	browser := oneBrowser(t)
	b := demoShop(t, Options{})
	one := open(t, browser, b)
	two := window(t, browser, one.home)
	two.at("/stock/S1")
	before := ask[string](two, `document.querySelector("h1").textContent`)
	one.at("/record/weigh?lot=S1")
	one.do("weigh", fillIn("mass_kg", "700"))
	one.press("weigh")
	two.until("the other window follows", `document.querySelector("h1").textContent !== "`+before+`"`)
	if h := two.heading(); h != "700 g of black PLA scrap." {
		t.Errorf("the other window says %q", h)
	}
}
