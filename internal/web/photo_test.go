package web

import (
	"bytes"
	"image/jpeg"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"hopperful/internal/photo"
	"hopperful/internal/web/address"
)

// sendPhoto posts a photograph as the form does.
func sendPhoto(t *testing.T, b *bench, raw []byte, fields ...string) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for i := 0; i+1 < len(fields); i += 2 {
		form.WriteField(fields[i], fields[i+1])
	}
	if raw != nil {
		part, err := form.CreateFormFile("picture", "a.jpg")
		if err != nil {
			t.Fatal(err)
		}
		part.Write(raw)
	}
	form.Close()
	r := httptest.NewRequest("POST", "/photo", &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return b.ask(r)
}

// A photograph of a lot stands on the lot's page and its own, one to a record beside
// the record; what is none is refused, and nothing typed is lost.
func TestPhotographsOfLotsAndRecords(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	raw, err := os.ReadFile(photograph(t, "coins.png"))
	if err != nil {
		t.Fatal(err)
	}
	before := b.store.State().Newest().ID
	if w := sendPhoto(t, b, raw, "lot", "R1", "note", "long flakes & dust", "by", "Ada"); w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/stock/R1?done=") {
		t.Fatalf("%d %v", w.Code, w.Header())
	}
	src := "/records/" + address.Number(before+1) + "/picture.jpg"
	w := b.get(src)
	if img, err := jpeg.Decode(w.Body); err != nil || w.Header().Get("Content-Type") != "image/jpeg" || img.Bounds().Dx() > 1280 || w.Body.Len() > photo.MostKept {
		t.Errorf("kept: %v %v", err, w.Header())
	}
	for _, path := range []string{"/stock/R1", "/records/" + address.Number(before+1)} {
		if page := b.get(path).Body.String(); !strings.Contains(page, `src="`+src+`"`) || !strings.Contains(page, "long flakes &amp; dust") {
			t.Errorf("%s does not show it", path)
		}
	}
	if w := sendPhoto(t, b, raw, "record", "12"); !strings.HasPrefix(w.Header().Get("Location"), "/records/12?done=") {
		t.Errorf("%d %v", w.Code, w.Header())
	}
	if page := b.get("/records/12").Body.String(); !strings.Contains(page, "/records/"+address.Number(before+2)+"/picture.jpg") || !strings.Contains(page, "/photo?record=12") {
		t.Error("a photograph to a record is not beside it")
	}
	if w := sendPhoto(t, b, []byte("no picture"), "lot", "R1", "note", "kept words"); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "kept words") {
		t.Errorf("a text is answered %d", w.Code)
	}
	if w := sendPhoto(t, b, nil, "lot", "R1"); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("nothing is answered %d", w.Code)
	}
	if w := sendPhoto(t, b, raw, "lot", "R999"); w.Code != http.StatusNotFound {
		t.Errorf("no lot is answered %d", w.Code)
	}
	if b.store.State().Newest().ID != before+2 {
		t.Error("what was refused is written")
	}
	if w := b.get("/photo"); w.Code != http.StatusNotFound {
		t.Errorf("a photograph of nothing is answered %d", w.Code)
	}
}

// On a phone a photograph is chosen and kept, and the lot's page shows it.
func TestPhotographOnAPhone(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), demoShop(t, Options{}))
	w.look(390, 844, false)
	w.at("/photo?lot=R1")
	w.do("choosing", chromedp.SetUploadFiles(`#ph-picture`, []string{photograph(t, "spread.jpg")}))
	w.do("keeping", chromedp.Click(`form.fill button`))
	w.until("the lot shows it", `!!document.querySelector(".grains-kept img") && location.pathname == "/stock/R1"`)
	w.do("looking", chromedp.ScrollIntoView(`.grains-kept img`))
	w.until("it is drawn", `document.querySelector(".grains-kept img").naturalWidth > 100`)
	w.picture("photo-lot-390")
	if over := ask[float64](w, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
		t.Errorf("the page is %g px too wide", over)
	}
	if list := w.complaints(); len(list) > 0 {
		t.Error(list)
	}
}
