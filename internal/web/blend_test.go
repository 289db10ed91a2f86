package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"hopperful/internal/web/address"
	"hopperful/shop"
)

const someBlend = "/blend/-?mass_kg=240+g&polymer=PLA"

func TestARecipeIsFoundAndAskedDifferently(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	first := firstHeading(b.get(someBlend).Body.String())
	if !strings.HasPrefix(first, "Blend ") {
		t.Fatalf("it says %q", first)
	}
	for asked, want := range map[string]string{
		"&mean_age=0.9":         "V1",
		"&without=R1":           "Blend ",
		"&only=V1":              "299\u00a0g of V1",
		"&order=nearest+colour": "This cannot be asked like that.",
		"&order=nearest+colour&tinted=yes&rgb=%232a2a2a": "from the colour wanted",
		"&mean_age=x":                "This cannot be asked like that.",
		"&only=V99":                  "This cannot be asked like that.",
		"&flow_low=50&flow_high=5":   "This cannot be asked like that.",
		"&most_lots=0.2&only=R1":     "299",
		"&mean_age=0.2&without=V1":   "No blend keeps",
		"&tinted=yes&rgb=%23ff0000":  "No blend",
		"&pick=1":                    "Blend ",
		"&thorough=yes&mean_age=1.1": "Blend ",
	} {
		w := b.get(someBlend + asked)
		if h := firstHeading(w.Body.String()); !strings.Contains(h, want) {
			t.Errorf("%s says %q, want %q in it", asked, h, want)
		}
		if refused := strings.Contains(want, "cannot be asked"); refused != (w.Code == http.StatusUnprocessableEntity) {
			t.Errorf("%s answers %d", asked, w.Code)
		}
	}
	if w := b.get("/blend/no-such-print"); w.Code != http.StatusNotFound {
		t.Errorf("a print that is not there answers %d", w.Code)
	}
	if w := b.get("/blend"); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "By mass") {
		t.Errorf("the choice answers %d", w.Code)
	}
}

// A print that says what it shall look like is held to that until the box is
// cleared; the answer keeps its colour beside the box.
func TestARecipeIsHeldToThePrintsColour(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	if w := b.post("/plan", url.Values{"mass": {"130 g"}, "name": {"lamp foot"}, "polymer": {"PLA"}, "rgb": {"#c98a5c"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("the print is not kept: %d", w.Code)
	}
	page := address.Blend("lamp foot")
	for asked, held := range map[string]bool{"": true, "?most_lots=3": true, "?rgb=%23c98a5c": false, "?rgb=%23c98a5c&tinted=yes": true} {
		body := b.get(page + asked).Body.String()
		if got := strings.Contains(firstHeading(body), "from the colour wanted"); got != held {
			t.Errorf("%q held to a colour: %t; it says %q", asked, got, firstHeading(body))
		}
		if !strings.Contains(body, `value="#c98a5c"`) {
			t.Errorf("%q has lost the colour", asked)
		}
	}
}

// What cannot be mixed says why, and each way out it offers leads to a recipe or
// at least to another question.
func TestWhereThereIsNoRecipeAWayOutIsOffered(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	w := b.get(someBlend + "&tinted=yes&rgb=%23c02020&within=2")
	body := w.Body.String()
	if w.Code != http.StatusOK || !strings.Contains(body, "The nearest there is") {
		t.Fatalf("it answers %d: %s", w.Code, firstHeading(body))
	}
	ways := regexp.MustCompile(`<li><a class="button" href="([^"]+)">`).FindAllStringSubmatch(body, -1)
	if len(ways) == 0 {
		t.Fatal("no way out is offered")
	}
	to := strings.ReplaceAll(strings.ReplaceAll(ways[0][1], "&amp;", "&"), "&#43;", "+")
	if h := firstHeading(b.get(to).Body.String()); !strings.HasPrefix(h, "Blend ") {
		t.Errorf("%s says %q", to, h)
	}
}

// A print that wants black gets black lots, and any where one asks for that.
func TestTheColourOfAPrintCanBeLeftOpen(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	const vase = "/blend/four%20planter%20feet"
	if body := b.get(vase).Body.String(); !strings.Contains(body, "any=yes") || !strings.Contains(body, "of any colour") {
		t.Fatalf("no way to leave it open: %s", firstHeading(body))
	}
	if h := firstHeading(b.get(vase + "?any=yes").Body.String()); !strings.HasPrefix(h, "Blend ") {
		t.Errorf("with lots of any colour it says %q", h)
	}
}

func TestARecipeIsAlsoForPrograms(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	r := httptest.NewRequest("GET", someBlend+"&mean_age=1.1", nil)
	r.Header.Set("Accept", "application/json")
	w := b.ask(r)
	var found struct {
		Head   struct{ Code string }
		Tables []struct{ Key string }
	}
	if err := json.Unmarshal(w.Body.Bytes(), &found); err != nil || found.Head.Code != "blend.answer" || len(found.Tables) == 0 || found.Tables[0].Key != "recipe" {
		t.Errorf("%v: %+v", err, found)
	}
}

// weighedOutPage follows the weighing from the page of a recipe to a recorded
// lot, each portion a few tenths of a gram off.
func TestABlendIsWeighedToALot(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	page := b.get(someBlend + "&mean_age=1.5").Body.String()
	m := regexp.MustCompile(`href="(/blend/-/weigh[^"]+)"`).FindStringSubmatch(page)
	if m == nil {
		t.Fatal("no way to weigh it")
	}
	at, total, lots := strings.ReplaceAll(strings.ReplaceAll(m[1], "&amp;", "&"), "&#43;", "+"), 0.0, 0
	running := regexp.MustCompile(`the scale then shows <b>([0-9.]+)`)
	lot := regexp.MustCompile(`name="lot" value="([^"]+)"`)
	for range 6 {
		body := b.get(at).Body.String()
		l := lot.FindStringSubmatch(body)
		if l == nil {
			break
		}
		fmt.Sscan(running.FindStringSubmatch(body)[1], &total)
		total -= 0.3
		if w := b.get(at + "&lot=" + l[1] + "&shows=-5"); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("less than nothing answers %d", w.Code)
		}
		w := b.get(fmt.Sprintf("%s&lot=%s&shows=%.1f", at, l[1], total))
		if w.Code != http.StatusSeeOther {
			t.Fatalf("it answers %d: %s", w.Code, firstHeading(w.Body.String()))
		}
		at, lots = w.Header().Get("Location"), lots+1
	}
	body := b.get(at).Body.String()
	if lots < 2 || !strings.Contains(body, "every limit holds") {
		t.Fatalf("%d lots; %s", lots, regexp.MustCompile(`(?s)wrong-box.*?</div>`).FindString(body))
	}
	form := url.Values{}
	for _, x := range regexp.MustCompile(`<input type="hidden" name="([^"]+)" value="([^"]*)">`).FindAllStringSubmatch(body, -1) {
		form.Set(x[1], x[2])
	}
	to := regexp.MustCompile(`action="(/record/blend[^"]*)"`).FindStringSubmatch(body)
	w := b.post(to[1], form)
	if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/stock/B") {
		t.Fatalf("the record answers %d to %q: %s", w.Code, w.Header().Get("Location"), w.Body)
	}
	body2, ok := b.store.State().Newest().Body.(*shop.Blended)
	if !ok || len(body2.From) != lots {
		t.Fatalf("kept %+v", b.store.State().Newest())
	}
	sum := 0.0
	for _, p := range body2.From {
		sum += p.Mass
	}
	if got := fmt.Sprintf("%.1f", sum*1000); got != fmt.Sprintf("%.1f", total) {
		t.Errorf("%s g are kept, the scale showed %g", got, total)
	}
	if w := b.get(strings.Replace(at, "/weigh", "/sheet", 1)); w.Code != http.StatusOK || strings.Count(w.Body.String(), `class="tick"`) != lots {
		t.Errorf("the sheet answers %d", w.Code)
	}
	for _, bad := range []string{"/blend/-/weigh?mass_kg=240+g&polymer=PLA", "/blend/-/sheet?mass_kg=1&polymer=PLA&take=R1:x", "/blend/-/weigh?mass_kg=1+kg&polymer=PLA&take=Z9:1"} {
		if w := b.get(bad); w.Code != http.StatusUnprocessableEntity && w.Code != http.StatusNotFound {
			t.Errorf("%s answers %d", bad, w.Code)
		}
	}
}
