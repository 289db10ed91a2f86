package web

import (
	"context"
	"math"
	"net/http"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"hopperful/internal/say"
	"hopperful/internal/web/drawing"
	"hopperful/plan/books"
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

// The books' picture: bands as wide as the masses they stand for, and on paper one page.
func TestBooksPage(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	page := b.get("/books").Body.String()
	for _, want := range []string{"Where the grams went", "Both sides meet", `<svg class="books-flow broad"`, "printed, against the scrap ground"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	streams := []books.Stream{{From: books.ScrapPlace, To: books.RegrindPlace, Mass: 2}, {From: books.RegrindPlace, To: books.PrintPlace, Mass: 1}, {From: books.RegrindPlace, To: books.LostPlace, Mass: 0.5}, {From: books.PrintPlace, To: books.ScrapPlace, Mass: 0.25}}
	picture, _, _ := strings.Cut(string(drawing.Flow(say.For("en"), streams)), "</svg>")
	var wide []float64
	for _, m := range regexp.MustCompile(`stroke-width="([\d.]+)"`).FindAllStringSubmatch(picture, -1) {
		v, _ := strconv.ParseFloat(m[1], 64)
		wide = append(wide, v)
	}
	if len(wide) != 4 || math.Abs(wide[0]/wide[1]-2) > 0.01 || math.Abs(wide[1]/wide[2]-2) > 0.01 || math.Abs(wide[2]/wide[3]-2) > 0.01 {
		t.Errorf("bands are %v wide", wide)
	}
	if drawing.Flow(say.For("en"), nil) != "" {
		t.Error("nothing is drawn of something")
	}
	if page := b.get("/books?granulate=6,50&filament=22&hour=18").Body.String(); !strings.Contains(page, `value="6,50"`) || !strings.Contains(page, "filament costs") || !strings.Contains(page, "&amp;filament=22") {
		t.Error("prices that were typed are not used, or lost on the way to the month before")
	}
	if page := b.get("/stock/R1/books").Body.String(); !strings.Contains(page, "Both sides meet") {
		t.Error("a lot's grams are not told")
	}
	if page := b.get("/stock").Body.String(); !strings.Contains(page, `"/books"`) {
		t.Error("the stock does not lead to the books")
	}
}

// What a room is asked with and cannot be read or be true is told beside its field, and stays there.
func TestRoomsSayWhichAnswerIsWrong(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for path, want := range map[string]string{"/dose?at_ear=loud": `value="loud"`, "/dose?floor=-3+m2": `value="-3 m2"`, "/dose?day=yesterday": "is no day", "/dose?beside=400": `value="400"`,
		"/books?month=1999-13": "is no month", "/books?granulate=six": `value="six"`, "/books?hour=-4": "A price is a number from nothing up", "/books?from=2026-11-20&to=2026-11-01": `value="2026-11-20"`,
		"/machines/Rattle/upkeep?look=often": `value="often"`} {
		if w := b.get(path); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), want) || !strings.Contains(w.Body.String(), `aria-invalid="true"`) {
			t.Errorf("%s answers %d and lacks %q", path, w.Code, want)
		}
	}
	if page := b.get("/dose?floor=12&height=2.5&at_ear=94").Body.String(); !strings.Contains(page, "if all of it were in the air") || strings.Contains(page, "Nobody measured how loud it is") {
		t.Error("the floor, or the level at the ear, is not taken")
	}
}

// The month on paper: one page.
func TestBooksPrintOnOneSheet(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	w.at("/books")
	ctx, end := context.WithTimeout(w.ctx, stepLimit)
	defer end()
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	keepFile(t, "books.pdf", pdf)
	if n := len(pdfPage.FindAll(pdf, -1)); n != 1 {
		t.Errorf("the month prints on %d sheets, it should be one", n)
	}
}

// The pages of the rooms at the machine, on a phone, light and dark.
func TestRoomsLook(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
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
var roomPages = map[string]string{"upkeep": "/machines/Rattle/upkeep", "dose": "/dose", "books": "/books"}
