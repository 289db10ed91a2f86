package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"hopperful/shop"
)

// wideFamily is a shop in which a bag went into many prints, and one of them
// back into granulate that is blended with what it came from.
func wideFamily(t testing.TB, prints int) *bench {
	t.Helper()
	bodies := []shop.Body{&shop.TakenIn{Lot: "V1", Class: shop.Virgin, Polymer: "PLA", Colour: "orange", Mass: 100}}
	for i := range prints {
		bodies = append(bodies, &shop.Printed{From: "V1", Into: shop.LotID(fmt.Sprintf("P%d", i+1)), Print: fmt.Sprintf("part %d", i+1), Mass: 0.01 * float64(i+1)})
	}
	return shopOf(t, append(bodies, &shop.Sorted{From: "P9", Into: []shop.Part{{Lot: "S1", Mass: 0.09}}},
		&shop.Blended{From: []shop.Portion{{Lot: "S1", Mass: 0.05}, {Lot: "V1", Mass: 0.05}}, Into: "B1"})...)
}

func TestWideFamiliesAreFolded(t *testing.T) {
	t.Parallel()
	b := wideFamily(t, 30)
	near := b.get("/stock/V1").Body.String()
	if !strings.Contains(near, ">and 26 more<") || !strings.Contains(near, `href="/stock/V1/family"`) || strings.Contains(near, ">part 3<") {
		t.Error("the lot's page does not fold its family")
	}
	far := b.get("/stock/V1/family").Body.String()
	for _, want := range []string{">and 15 more<", `href="#family-table"`, `id="family-table"`, "part 3", `href="/stock/P3"`} {
		if !strings.Contains(far, want) {
			t.Errorf("the family's page lacks %s", want)
		}
	}
	if body := b.get("/stock/B1/family").Body.String(); !strings.Contains(body, "drawn elsewhere") {
		t.Error("V1 stands twice above B1, and neither is marked")
	}
}

func TestALongLogIsCut(t *testing.T) {
	t.Parallel()
	b := wideFamily(t, 70)
	short, long := b.get("/stock/V1").Body.String(), b.get("/stock/V1?records=all").Body.String()
	if !strings.Contains(short, "Show the 69 earlier records") || strings.Contains(short, `href="/records/3"`) {
		t.Error("the lot's page tells everything that ever happened")
	}
	if strings.Contains(long, "earlier record") || !strings.Contains(long, `href="/records/1"`) {
		t.Error("the first record is nowhere")
	}
}

func TestWhatIsUsedUpIsNotGround(t *testing.T) {
	t.Parallel()
	b := wideFamily(t, 12)
	body := b.get("/stock/P9").Body.String()
	if !strings.Contains(body, "See what is in stock") || strings.Contains(body, "/record/sort?lot=P9") || strings.Contains(body, "/record/charge?lot=P9") {
		t.Error("a lot of which nothing is left can still be worked with")
	}
	if w := b.get("/record/weigh?lot=P9"); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), `value="P9" selected`) {
		t.Error("a lot that turns up again cannot be weighed")
	}
}

func TestAFamilyAnswersProgramsAsTheCommandDoes(t *testing.T) {
	t.Parallel()
	b := wideFamily(t, 30)
	r := httptest.NewRequest("GET", "/stock/V1/family", nil)
	r.Header.Set("Accept", "application/json")
	var got struct {
		Tables []struct {
			Key  string
			Rows [][]string
		}
	}
	w := b.ask(r)
	if err := json.Unmarshal(w.Body.Bytes(), &got); err != nil || w.Code != http.StatusOK {
		t.Fatalf("%d: %v", w.Code, err)
	}
	if len(got.Tables) < 2 || got.Tables[1].Key != "went_to" || len(got.Tables[1].Rows) < 31 {
		t.Errorf("%+v; V1 went into 31 lots", got.Tables)
	}
}

func TestALotWithoutKinSaysSo(t *testing.T) {
	t.Parallel()
	b := shopOf(t, &shop.TakenIn{Lot: "S1", Class: shop.Scrap, Polymer: "PLA", Mass: 1})
	for _, path := range []string{"/stock/S1", "/stock/S1/family"} {
		body := b.get(path).Body.String()
		if !strings.Contains(body, "nothing was made of it yet") || strings.Contains(body, `class="kintree"`) {
			t.Errorf("%s draws an empty family", path)
		}
	}
}

// TestAFamilyIsWalkedByHand looks at the picture in a browser: its links work by
// mouse and keyboard, it stays in its frame on a phone, and nothing of it breaks
// the page's rules.
func TestAFamilyIsWalkedByHand(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	w.look(390, 844, false)
	for _, path := range []string{"/stock/R1", "/stock/R1/family", "/stock/S1"} {
		w.at(path)
		if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > 390 {
			t.Errorf("%s is %d px wide on a phone", path, wide)
		}
		if !ask[bool](w, `(() => { const box = document.querySelector(".kin-scroll").getBoundingClientRect(), own = document.querySelector(".kintree .own").getBoundingClientRect();
			return own.left >= box.left && own.right <= box.right; })()`) {
			t.Errorf("%s: the lot itself stands outside what is seen", path)
		}
		for _, small := range ask[[]string](w, `[...document.querySelectorAll(".kintree a")].map(a => [a.getAttribute("href"), a.getBoundingClientRect()])
			.filter(([, r]) => r.width < 48 || r.height < 48).map(([name, r]) => name + " is " + r.width + " by " + r.height)`) {
			t.Errorf("%s: %s", path, small)
		}
		w.picture("family-phone" + strings.ReplaceAll(path, "/", "-"))
	}
	w.look(1280, 900, true)
	w.at("/stock/R1")
	w.picture("family-desk-dark")
	w.do("a click on S1", chromedp.Click(chromedp.CSS(`.kintree a[href="/stock/S1"] .card`)))
	w.until("S1 is shown", `location.pathname === "/stock/S1"`)
	w.at("/stock/R1")
	w.do("focus on the frame", chromedp.Focus(chromedp.CSS(".kin-scroll")), chromedp.KeyEvent(kb.Tab))
	if on := ask[string](w, `document.activeElement.closest(".kintree") ? getComputedStyle(document.activeElement.querySelector(".card")).strokeWidth : "nothing of the picture"`); on != "4px" {
		t.Errorf("the focus is on %s", on)
	}
	to := ask[string](w, `document.activeElement.getAttribute("href")`)
	w.do("entering", chromedp.KeyEvent(kb.Enter))
	w.until("the focused lot is shown", `location.pathname === "`+to+`"`)
	for path, width := range map[string]int64{"/stock/R1": 390, "/stock/S1/family": 1280} {
		w.look(width, 844, false)
		w.at(path)
		w.accessible(path, width)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}
