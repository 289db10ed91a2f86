package web

import (
	"bytes"
	"compress/zlib"
	"context"
	"io"
	"math"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"hopperful/shop"
)

// photograph is a rendered picture of grains, of package grain.
func photograph(t *testing.T, name string) string {
	t.Helper()
	path, err := filepath.Abs(filepath.Join("..", "..", "process", "grain", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return path
}

// sendPicture posts a picture as a form does.
func sendPicture(t *testing.T, b *bench, name, accept string, fields ...string) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for i := 0; i+1 < len(fields); i += 2 {
		form.WriteField(fields[i], fields[i+1])
	}
	if name != "" {
		data, err := os.ReadFile(photograph(t, name))
		if err != nil {
			t.Fatal(err)
		}
		part, err := form.CreateFormFile("picture", name)
		if err != nil {
			t.Fatal(err)
		}
		part.Write(data)
	}
	form.Close()
	r := httptest.NewRequest("POST", "/stock/R1/grains", &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	r.Header.Set("Accept", accept)
	return b.ask(r)
}

// photos are the analyses of R1 that come from pictures.
func photos(b *bench) (all []*shop.Sieved) {
	for _, e := range b.store.State().Sievings("R1") {
		if e.Body.Photo != nil {
			all = append(all, e.Body)
		}
	}
	return all
}

// TestGrainsWithoutScript: the whole way with forms alone.
func TestGrainsWithoutScript(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := sendPicture(t, b, "spread.jpg", "", "mass", "0.4 g", "line", "100 mm")
	at := w.Header().Get("Location")
	if w.Code != http.StatusSeeOther || !strings.HasPrefix(at, "/stock/R1/grains/") {
		t.Fatalf("it answers %d to %q: %s", w.Code, at, firstHeading(w.Body.String()))
	}
	page := b.get(at).Body.String()
	for _, want := range []string{"by 216 grains", "<polygon", `name="struck.1"`, "On your sieves", "Keep it with the lot"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if w := b.get(at + "/1.jpg"); w.Code != http.StatusOK || w.Header().Get("Content-Type") != "image/jpeg" {
		t.Errorf("the picture answers %d", w.Code)
	}
	if w := b.post(at, answers("struck.1", "3, 17, 900, x", "parted.1", "5")); w.Code != http.StatusSeeOther {
		t.Fatalf("striking out answers %d", w.Code)
	}
	if page := b.get(at).Body.String(); !strings.Contains(page, "by 215 grains") || !strings.Contains(page, `value="3, 17"`) || !strings.Contains(page, `class="struck"`) {
		t.Error("two struck out and one parted do not leave 215")
	}
	w = b.post(at+"/keep", answers("picture", "yes"))
	if w.Code != http.StatusSeeOther || !strings.Contains(w.Header().Get("Location"), "/stock/R1/sieve/") {
		t.Fatalf("keeping answers %d to %s", w.Code, w.Header().Get("Location"))
	}
	all := photos(b)
	if len(all) != 1 || all[0].Photo.Grains != 215 || all[0].Photo.Struck != 2 || all[0].Photo.Parted != 1 || !all[0].Photo.Weighed || all[0].Photo.Picture == "" {
		t.Fatalf("kept: %d", len(all))
	}
	// The picture kept is shown wherever the analysis is, and sent as it was kept.
	at = w.Header().Get("Location")
	id := at[strings.LastIndex(at, "/")+1:]
	for _, path := range []string{strings.SplitN(at, "?", 2)[0], "/records/" + strings.SplitN(id, "?", 2)[0], "/stock/R1"} {
		page := b.get(path).Body.String()
		if !strings.Contains(page, `/picture.jpg"`) {
			t.Errorf("%s shows no picture", path)
		}
	}
	kept := b.get("/records/" + strings.SplitN(id, "?", 2)[0] + "/picture.jpg")
	if want := all[0].Kept(); kept.Code != http.StatusOK || !bytes.Equal(kept.Body.Bytes(), want) || !bytes.HasPrefix(want, []byte{0xff, 0xd8}) {
		t.Errorf("the picture kept answers %d with %d bytes of %d", kept.Code, kept.Body.Len(), len(want))
	}
	if w := b.get("/records/4/picture.jpg"); w.Code != http.StatusNotFound || !strings.Contains(w.Body.String(), "No picture is kept") {
		t.Errorf("a record without a picture answers %d", w.Code)
	}
}

// TestPicturesOfOneClass: two pictures of one class of a kitchen sieve weigh what the
// class weighs, and not twice as much.
func TestPicturesOfOneClass(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	at := sendPicture(t, b, "spread.jpg", "", "of", "18 g", "line", "100 mm").Header().Get("Location")
	key := at[strings.LastIndex(at, "/")+1:]
	for _, of := range []string{"18 g", "7 g"} {
		if w := sendPicture(t, b, "spread.jpg", "", "of", of, "line", "100 mm", "key", key); w.Header().Get("Location") != at {
			t.Fatalf("a further picture of %s answers %d", of, w.Code)
		}
	}
	b.post(at+"/keep", answers())
	if all := photos(b); len(all) != 1 || math.Abs(all[0].Charge-0.025) > 1e-9 || all[0].Photo.Pictures != 3 {
		t.Errorf("kept: %d of %g kg", len(all), all[0].Charge)
	}
}

// TestGrainsRefused: what is wrong, with what to do; nothing is kept.
func TestGrainsRefused(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for name, c := range map[string]struct{ file, want string }{
		"a heap":    {"heap.jpg", "The grains lie on one another"},
		"thumbnail": {"coins.png", "only 300 pixels"},
		"text":      {"SOURCE", "no picture that can be read"},
		"nothing":   {"", "Choose a picture"},
	} {
		w := sendPicture(t, b, c.file, "")
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), c.want) {
			t.Errorf("%s answers %d without %q", name, w.Code, c.want)
		}
		if w := sendPicture(t, b, c.file, "application/x-ndjson"); !strings.Contains(w.Body.String(), c.want) {
			t.Errorf("%s: the script is told %s", name, w.Body.String())
		}
	}
	if w := b.get("/stock/R1/grains/nothing"); w.Code != http.StatusNotFound {
		t.Errorf("a key of nothing answers %d", w.Code)
	}
	for _, path := range []string{"/grains/sheet?lot=R1", "/grains/sheet?sheet=half&on=black", "/grains/sheet.pdf?on=window"} {
		if w := b.get(path); w.Code != http.StatusOK {
			t.Errorf("%s answers %d", path, w.Code)
		}
	}
}

// TestGrainsOnAPhone: at 390 px a picture is chosen, progress shown, the overlay
// zoomed, a grain struck out, the answer follows, and it is kept.
func TestGrainsOnAPhone(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	w := open(t, oneBrowser(t), b)
	w.look(390, 844, false)
	w.at("/stock/R1/grains")
	w.do("a picture", chromedp.SetUploadFiles(chromedp.CSS(`#g-picture`), []string{photograph(t, "spread.jpg")}))
	ask[bool](w, `(() => { const s = document.querySelector(".grains-stage");
		new MutationObserver(() => { sessionStorage.stages = (sessionStorage.stages || "") + s.textContent + "|" }).observe(s, {childList: true}); return true })()`)
	w.do("send", chromedp.Click(chromedp.CSS(`.grains-send button`)))
	w.until("grains are found", `document.querySelector("#found h1") && document.querySelector("#found h1").textContent.includes("216")`)
	w.picture("grains-phone")
	if stages := ask[string](w, `sessionStorage.stages || ""`); !strings.Contains(stages, "Sending|") {
		t.Errorf("progress was %q", stages)
	}
	if ask[bool](w, `document.documentElement.scrollWidth > innerWidth`) {
		t.Error("the page is wider than the phone")
	}
	w.do("closer", chromedp.Click(chromedp.CSS(`[data-zoom="1.5"]`)))
	w.until("the picture is larger", `document.querySelector(".grains-field").clientWidth > 1.4 * document.querySelector(".grains-frame").clientWidth`)
	pinched := ask[bool](w, `(() => { const f = document.querySelector(".grains-frame"), was = f.dataset.zoomed;
		const at = (type, id, x) => f.dispatchEvent(new PointerEvent(type, {pointerId: id, pointerType: "touch", clientX: x, clientY: 300, bubbles: true}));
		at("pointerdown", 1, 150); at("pointerdown", 2, 200); at("pointermove", 2, 250); at("pointerup", 1, 150); at("pointerup", 2, 250);
		return Number(f.dataset.zoomed) > 1.5 * Number(was) })()`)
	if !pinched {
		t.Error("two fingers do not zoom")
	}
	ask[bool](w, `document.querySelector('polygon[data-grain="3"]').dispatchEvent(new MouseEvent("click", {bubbles: true}))`)
	w.until("one is struck out and the answer follows", `document.querySelector("#found h1").textContent.includes("215") && !!document.querySelector("polygon.struck")`)
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
	w.do("keep", chromedp.Click(chromedp.CSS(`.grains-keep button`)))
	w.until("the analysis is shown", `location.pathname.includes("/sieve/")`)
	if all := photos(b); len(all) != 1 || all[0].Photo.Grains != 215 || all[0].Photo.Struck != 1 {
		t.Errorf("kept: %d", len(all))
	}
}

// The pages of photographed grains, light and dark, before and after; and the sheet
// printed at its size.
func TestGrainsLook(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	b := demoShop(t, Options{})
	at := sendPicture(t, b, "spread.jpg", "", "mass", "0.4 g").Header().Get("Location")
	w := open(t, oneBrowser(t), b)
	for _, path := range []string{"/stock/R1/grains", at, "/grains/sheet?lot=R1"} {
		w.look(390, 844, false)
		w.at(path)
		if ask[bool](w, `document.documentElement.scrollWidth > innerWidth`) {
			t.Errorf("%s is wider than the phone", path)
		}
		w.accessible(path, 390)
	}
	for i, path := range []string{"/stock/R1/grains", at} {
		w.look(390, 844, true)
		w.at(path)
		w.picture([]string{"grains-ask-dark", "grains-found-dark"}[i])
	}
}

// On paper the line of 100 mm is 100 mm: measured in the document that a browser
// prints, where a point is 25.4/72 mm (ISO 32000-1, 8.3.2.3).
func TestGrainSheetOnPaper(t *testing.T) {
	t.Parallel()
	w := open(t, oneBrowser(t), shopToLookAt(t))
	w.at("/grains/sheet?lot=R1")
	ctx, end := context.WithTimeout(w.ctx, stepLimit)
	defer end()
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	keepFile(t, "grains-sheet.pdf", pdf)
	if n := len(pdfPage.FindAll(pdf, -1)); n != 1 {
		t.Errorf("it prints on %d sheets, it should be one", n)
	}
	if box := regexp.MustCompile(`/MediaBox\s*\[0 0 (59[45][\d.]*) (84[12][\d.]*)\]`).Find(pdf); box == nil {
		t.Error("it is no sheet of A4")
	}
	long := []float64{}
	for _, r := range drawnRects(t, pdf) {
		if math.Abs(r[0]/r[1]-200) < 2 { // 100 mm by 0.5 mm
			long = append(long, r[0]*25.4/72)
		}
	}
	if len(long) != 1 || math.Abs(long[0]-100) > 0.1 {
		t.Errorf("the line measures %.2f mm on paper", long)
	}
}

// drawnRects are width and height of the rectangles in a document's streams, in
// points, with the scale of the matrices in force.
func drawnRects(t *testing.T, pdf []byte) (all [][2]float64) {
	t.Helper()
	for _, part := range bytes.Split(pdf, []byte("stream"))[1:] {
		z, err := zlib.NewReader(bytes.NewReader(bytes.TrimLeft(part, "\r\n")))
		if err != nil {
			continue
		}
		text, _ := io.ReadAll(z)
		scale := [][2]float64{{1, 1}}
		var numbers []float64
		for _, word := range strings.Fields(string(text)) {
			if v, err := strconv.ParseFloat(word, 64); err == nil {
				numbers = append(numbers, v)
				continue
			}
			at := len(scale) - 1
			switch n := len(numbers); {
			case word == "q":
				scale = append(scale, scale[at])
			case word == "Q" && at > 0:
				scale = scale[:at]
			case word == "cm" && n >= 6:
				scale[at][0], scale[at][1] = scale[at][0]*numbers[n-6], scale[at][1]*numbers[n-3]
			case word == "re" && n >= 4:
				all = append(all, [2]float64{math.Abs(numbers[n-2] * scale[at][0]), math.Abs(numbers[n-1] * scale[at][1])})
			}
			numbers = numbers[:0]
		}
	}
	return all
}
