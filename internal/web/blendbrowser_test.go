package web

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// moved moves the dial of a field and notes when the answer has followed.
const movedDial = `new Promise((done) => {
  const d = document.querySelector('[name="%s"]').closest(".field").querySelector("input[type=range]"), was = document.querySelector("h1").textContent, from = performance.now();
  const look = () => { const h = document.querySelector("h1").textContent; if (h !== was) done(performance.now() - from); else setTimeout(look, 5); };
  d.value = %s; d.dispatchEvent(new Event("input", {bubbles: true})); look();
})`

// TestARecipeFollowsAFinger moves a limit and reads how soon the recipe is
// another one. It fails only far beyond what a person would wait for.
func TestARecipeFollowsAFinger(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), demoShop(t, Options{}))
	w.look(390, 844, false)
	w.at(someBlend + "&mean_age=1.5")
	if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("the page is %d px wide on a phone", wide)
	}
	for _, small := range ask[[]string](w, smallTargets) {
		t.Error(small)
	}
	for _, move := range []struct{ field, to string }{{"mean_age", "110"}, {"mean_age", "160"}, {"mean_age", "140"}} {
		script := strings.Replace(strings.Replace(movedDial, "%s", move.field, 1), "%s", move.to, 1)
		took := ask[float64](w, script)
		t.Logf("%s moved to %s: another recipe after %.0f ms", move.field, move.to, took)
		if took > 5000 {
			t.Errorf("the recipe follows after %.0f ms", took)
		}
	}
	w.until("the address is kept", `location.search.includes("mean_age=")`)
	w.until("the next best are found", `document.querySelector(".more-part .blend-others, .more-part p.quiet") !== null`)
	// By keyboard: a colour is wanted, then the order by it.
	w.do("by keyboard", chromedp.Focus(chromedp.CSS(`[name="tinted"]`)), chromedp.KeyEvent(" "))
	w.until("a colour is wanted", `location.search.includes("tinted=yes")`)
	w.picture("blend-phone")
	w.look(1280, 900, false)
	w.at(someBlend + "&tinted=yes&rgb=%23c02020&within=2")
	w.until("no recipe, and a way out", `document.querySelector(".blend-eases a") !== null`)
	w.picture("blend-none-desk")
	w.do("take the way out", chromedp.Click(chromedp.CSS(`.blend-eases a`)))
	w.until("a recipe", `document.querySelector("h1") !== null && document.querySelector("h1").textContent.startsWith("Blend")`)
	for _, width := range []int{390, 1280} {
		for _, path := range []string{someBlend + "&tinted=yes&rgb=%232a2a2a&thorough=yes", "/blend", someBlend + "&tinted=yes&rgb=%23c02020&within=2"} {
			w.accessible(path, int64(width))
		}
	}
}

// TestABlendIsWeighedInABrowser types what the scale shows, lot by lot, loses
// nothing on the way, and ends at the new lot.
func TestABlendIsWeighedInABrowser(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := demoShop(t, Options{})
	w := open(t, oneBrowser(t), b)
	w.look(390, 844, false)
	w.at(someBlend + "&mean_age=1.5")
	w.do("begin to weigh", chromedp.Click(chromedp.CSS(`.found a.main-act`)))
	w.until("the first lot", `document.getElementById("shows") !== null`)
	w.accessible(ask[string](w, `location.pathname + location.search`), 390)
	for step := range 6 {
		if ask[bool](w, `document.getElementById("shows") === null`) {
			break
		}
		at := ask[string](w, `location.search`)
		shows := ask[string](w, `(document.querySelector(".weigh-total b").textContent.match(/[0-9.]+/) || [""])[0]`)
		w.do("type what it shows", chromedp.SendKeys(chromedp.CSS("#shows"), shows+"\r"))
		w.until("the next lot", `location.search !== `+quoted(at)+` && document.readyState === "complete"`)
		if step == 0 {
			w.do("reload", chromedp.Reload())
			w.until("what was weighed is still there", `document.querySelector("tbody td:last-child").textContent.includes("g")`)
			w.picture("weigh-phone")
		}
	}
	w.do("record it", chromedp.Click(chromedp.CSS(`button.main-act`)))
	w.until("the new lot", `location.pathname.startsWith("/stock/B")`)
	if k := b.store.State().Newest().Body.Kind(); k != "blended" {
		t.Errorf("a %s was kept", k)
	}
}
