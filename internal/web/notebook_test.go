package web

import (
	"bytes"
	"context"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// makersBook is the notebook of the invented maker, of package exchange.
func makersBook(t *testing.T) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("..", "exchange", "testdata", "maker.csv"))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// bookBench is a shop that knows its mill and scale and no more.
func bookBench(t *testing.T) *bench {
	t.Helper()
	b := emptyShop(t, Options{})
	at := time.Date(2026, 4, 20, 8, 0, 0, 0, time.UTC)
	_, err := b.store.Append(context.Background(), noon, shop.Record{At: at, Body: &shop.MillSet{Mill: shoptest.Mill()}}, shop.Record{At: at, Body: &shop.ScaleSet{Scale: shop.Scale{Name: "kitchen", Resolution: 0.001}}})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// sendBook posts a notebook as a form does, and returns where that leads.
func sendBook(t *testing.T, b *bench, name string, raw []byte) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	part, err := form.CreateFormFile("file", name)
	if err != nil {
		t.Fatal(err)
	}
	part.Write(raw)
	form.Close()
	r := httptest.NewRequest("POST", "/notebook", &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return b.ask(r)
}

// read is a page with its blanks as they are typed.
func read(b *bench, path string) string {
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace(b.ask(httptest.NewRequest("GET", path, nil)).Body.String())
}

// A notebook is looked at, written once however often the button is pressed, and
// known when it comes again; one with a bad line cannot be written.
func TestNotebookIsWrittenOnce(t *testing.T) {
	t.Parallel()
	b := bookBench(t)
	raw, err := os.ReadFile(makersBook(t))
	if err != nil {
		t.Fatal(err)
	}
	to := sendBook(t, b, "maker.csv", raw).Header().Get("Location")
	page := read(b, to)
	for _, want := range []string{"15 lines can be written, 1 of them with a question", "Write all of it down", "taken, and asked about"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if n := b.store.State().History.Len(); n != 2 {
		t.Fatalf("looking wrote something: %d records", n)
	}
	for range 2 {
		if w := b.ask(httptest.NewRequest("POST", to, nil)); w.Code != http.StatusSeeOther {
			t.Fatalf("status %d", w.Code)
		}
	}
	if n := b.store.State().History.Len(); n != 17 {
		t.Errorf("%d records, wanted 17", n)
	}
	if page := read(b, to); !strings.Contains(page, "15 lines are written, as records 3 to 17") {
		t.Error("the page does not say what was written")
	}
	again := sendBook(t, b, "maker.csv", raw).Header().Get("Location")
	if page := read(b, again); !strings.Contains(page, "All 15 lines are in the shop already") || strings.Contains(page, "Write all of it down") {
		t.Error("sent again it is not known")
	}
	bad := sendBook(t, b, "bad.csv", []byte("date,from,charge,run (s)\n2026-06-01,black bin,80 g,60\n2026-06-01,black bin,90,60\n")).Header().Get("Location")
	b.ask(httptest.NewRequest("POST", bad, nil))
	page = read(b, bad)
	if b.store.State().History.Len() != 17 || !strings.Contains(page, "line 3, charge: 90 has no unit") || strings.Contains(page, "Write all of it down") {
		t.Error("a bad line did not keep all of it out")
	}
	if w := sendBook(t, b, "words.csv", []byte("a,b\n1,2\n")); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "headings of a notebook") {
		t.Errorf("status %d for a table that is none", w.Code)
	}
	if w := b.ask(httptest.NewRequest("GET", "/notebook/nowhere", nil)); w.Code != http.StatusNotFound {
		t.Errorf("status %d for a notebook that is not held", w.Code)
	}
	if w := b.ask(httptest.NewRequest("GET", "/notebook/notebook.csv", nil)); !strings.Contains(w.Body.String(), "date,time,what") {
		t.Error("no template")
	}
}

// On a phone a real file is chosen, looked at and written.
func TestNotebookOnAPhone(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := bookBench(t)
	w := open(t, oneBrowser(t), b)
	w.look(390, 844, false)
	w.at("/notebook")
	w.picture("notebook-390")
	w.do("choosing the file", chromedp.SetUploadFiles(`#n-file`, []string{makersBook(t)}))
	w.do("looking", chromedp.Click(`form.fill button`))
	w.until("the lines have their fates", `document.querySelector("h1").textContent.includes("15 lines")`)
	w.picture("notebook-lines-390")
	if over := ask[float64](w, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
		t.Errorf("the page is %g px too wide", over)
	}
	if tall := ask[float64](w, `document.querySelector(".notebook-write button").getBoundingClientRect().height`); tall < 44 {
		t.Errorf("the button is %g px tall", tall)
	}
	w.do("writing", chromedp.Click(`.notebook-write button`))
	w.until("it is written", `document.querySelector("h1").textContent.includes("are written")`)
	w.look(390, 844, true)
	w.picture("notebook-written-390-dark")
	if n := b.store.State().History.Len(); n != 17 {
		t.Errorf("%d records, wanted 17", n)
	}
	if list := w.complaints(); len(list) > 0 {
		t.Error(list)
	}
}
