package web

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/process/colour"
	"hopperful/shop"
)

// TestAColourIsTyped: a code, L*a*b* or a pasted curve; each says how it came.
func TestAColourIsTyped(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	table := "nm;R\n"
	for nm := 400; nm <= 700; nm += 20 {
		table += fmt.Sprintf("%d;0,%03d\n", nm, 100+(nm-400)/2)
	}
	for name, c := range map[string]struct {
		typed []string
		want  func(*shop.Coloured) bool
	}{
		"code":   {[]string{"how", string(shop.CardPhoto), "rgb", "#C0402A"}, func(x *shop.Coloured) bool { return x.RGB == "#c0402a" && x.How == shop.CardPhoto }},
		"by eye": {[]string{"how", string(shop.ByEye), "rgb", "#c0402a", "lab.observer", "10"}, func(x *shop.Coloured) bool { return x.Lab == nil && x.How == shop.ByEye }},
		"lab": {[]string{"how", string(shop.CardPhoto), "lab.l", "38,2", "lab.a", "10.4", "lab.b", "-47.1", "lab.observer", "2"}, func(x *shop.Coloured) bool {
			return *x.Lab == shop.TakenLab{L: 38.2, A: 10.4, B: -47.1, Observer: 2} && x.How == shop.Instrument
		}},
		"grey in ab": {[]string{"how", string(shop.Instrument), "lab.l", "50", "lab.a", "0", "lab.b", "0", "lab.observer", "10"}, func(x *shop.Coloured) bool { return *x.Lab == shop.TakenLab{L: 50, Observer: 10} }},
		"curve": {[]string{"how", string(shop.CardPhoto), "curve", table}, func(x *shop.Coloured) bool {
			return len(x.Curve) == 16 && x.Curve[1].Light == 0.11 && x.How == shop.Instrument
		}},
	} {
		body, in := readAs(t, b, "colour", answers(append([]string{"lot", "R1"}, c.typed...)...))
		if body == nil {
			t.Errorf("%s is refused: %v", name, in.Wrong)
			continue
		}
		if !c.want(body.(*shop.Coloured)) {
			t.Errorf("%s: got %+v", name, body)
		}
		w := b.post("/record/colour?lot=R1", answers(append([]string{"lot", "R1"}, c.typed...)...))
		if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/stock/R1") {
			t.Errorf("%s answers %d to %s", name, w.Code, w.Header().Get("Location"))
		}
	}
	for _, r := range b.store.State().ColoursTaken("R1") {
		d := &desk.Desk{State: b.store.State(), Say: say.For(), Now: noon, Query: func(string) string { return "" }}
		sh, _ := sheets.OfRecord(d, r.Body)
		in := forms.NewInput(say.For(), forms.AnswersOf(sh, r.Record, noon.Location(), say.For()))
		again := in.Read(sh, r.Body)
		if again == nil {
			t.Errorf("%+v is refused on its own sheet: %v", r.Body, in.Wrong)
		} else if diff := farther(t, r.Body, again); diff != "" {
			t.Error(diff)
		}
	}
}

// TestAWrongColourStaysTyped: the refusal stands beside its field.
func TestAWrongColourStaysTyped(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for name, c := range map[string]struct {
		typed []string
		field string
	}{
		"no code":        {[]string{"rgb", "red"}, "f-rgb-wrong"},
		"nothing":        {nil, "f-rgb-wrong"},
		"no surface":     {[]string{"lab.l", "95", "lab.a", "80", "lab.b", "80", "lab.observer", "10"}, "wrong-box"},
		"half of L*a*b*": {[]string{"lab.l", "950", "lab.observer", "10"}, "f-lab-l-wrong"},
		"a short curve":  {[]string{"curve", "400;0.1\n420;0.1"}, "f-curve-wrong"},
		"words":          {[]string{"curve", "400;x"}, "f-curve-wrong"},
	} {
		w := b.post("/record/colour?lot=R1", answers(append([]string{"lot", "R1", "how", string(shop.CardPhoto)}, c.typed...)...))
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), c.field) {
			t.Errorf("%s answers %d without %s", name, w.Code, c.field)
		}
		if len(c.typed) > 1 && !strings.Contains(w.Body.String(), strings.SplitN(c.typed[1], "\n", 2)[0]) {
			t.Errorf("%s: what was typed is gone", name)
		}
	}
	if len(b.store.State().ColoursTaken("R1")) > 0 {
		t.Error("something was written")
	}
}

// TestACurveIsReadFromAFile fills the sheet in and writes nothing.
func TestACurveIsReadFromAFile(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	send := func(name, text string) *httptest.ResponseRecorder {
		var body bytes.Buffer
		form := multipart.NewWriter(&body)
		form.WriteField("lot", "R1")
		if name != "" {
			part, _ := form.CreateFormFile("file", name)
			part.Write([]byte(text))
		}
		form.Close()
		r := httptest.NewRequest("POST", "/record/colour/table", &body)
		r.Header.Set("Content-Type", form.FormDataContentType())
		return b.ask(r)
	}
	if w := send("tile.csv", "400,6\n420,7.5\n440,8\n"); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), "420; 0.075") || !strings.Contains(w.Body.String(), "in percent") {
		t.Errorf("it answers %d: %s", w.Code, firstHeading(w.Body.String()))
	}
	for name, text := range map[string]string{"tile.csv": "400,x\n", "": ""} {
		if w := send(name, text); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "c-file-wrong") {
			t.Errorf("%q answers %d", name, w.Code)
		}
	}
}

// cardPhoto is a picture with a white card at the left and a plastic at the right,
// each of two colours in turn, so that averaging in light and averaging in codes
// give different answers.
func cardPhoto(t *testing.T, card, plastic [2]color.RGBA) string {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 400, 300))
	for y := range 300 {
		for x := range 400 {
			of := card
			if x >= 200 {
				of = plastic
			}
			m.SetRGBA(x, y, of[(x+y)%2])
		}
	}
	name := filepath.Join(t.TempDir(), "photo.png")
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, m); err != nil {
		t.Fatal(err)
	}
	return name
}

// againstCard is the code of a plastic against a card, by package colour.
func againstCard(t *testing.T, card, plastic [2]color.RGBA) [3]float64 {
	t.Helper()
	mean := func(of [2]color.RGBA, k int) float64 {
		sum := 0.0
		for _, c := range of {
			l, err := colour.Linear(float64([3]uint8{c.R, c.G, c.B}[k]) / 255)
			if err != nil {
				t.Fatal(err)
			}
			sum += l / 2
		}
		return sum
	}
	var out [3]float64
	for k := range out {
		want, low, high := mean(plastic, k)/mean(card, k), 0.0, 1.0
		for range 60 { // Linear turned round
			mid := (low + high) / 2
			if l, _ := colour.Linear(mid); l > want {
				high = mid
			} else {
				low = mid
			}
		}
		out[k] = 255 * low
	}
	return out
}

// touch clicks the picture at a share of its width and height.
func (w *tab) touch(x, y float64) {
	w.t.Helper()
	ask[bool](w, fmt.Sprintf(`(() => { const c = document.querySelector(".picker-photo"), r = c.getBoundingClientRect();
		c.dispatchEvent(new MouseEvent("click", {bubbles: true, clientX: r.left + %g * r.width, clientY: r.top + %g * r.height})); return true; })()`, x, y))
}

// TestAColourIsPickedFromAPhoto puts a generated picture through the page and
// holds the code against package colour. The picture goes nowhere.
func TestAColourIsPickedFromAPhoto(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), demoShop(t, Options{}))
	w.look(390, 844, false)
	card := [2]color.RGBA{{210, 200, 180, 255}, {180, 190, 170, 255}}
	plastic := [2]color.RGBA{{150, 50, 30, 255}, {90, 40, 60, 255}}
	w.at("/record/colour?lot=R1")
	w.do("picture", chromedp.SetUploadFiles(chromedp.CSS(`#p-file`), []string{cardPhoto(t, card, plastic)}))
	w.until("the picture is drawn", `!document.querySelector(".picker-work").hidden`)
	w.touch(0.25, 0.5)
	w.touch(0.75, 0.3)
	w.touch(0.75, 0.7)
	w.until("the code is filled in", `document.querySelector('[name="rgb"]').value !== ""`)
	code, want := ask[string](w, `document.querySelector('[name="rgb"]').value`), againstCard(t, card, plastic)
	rgb, err := colour.ParseHex(code)
	if err != nil {
		t.Fatal(err)
	}
	for k, got := range [3]float64{rgb.R, rgb.G, rgb.B} {
		if math.Abs(255*got-want[k]) > 1 {
			t.Errorf("part %d of %s is %.0f, it should be %.1f", k, code, 255*got, want[k])
		}
	}
	if said := ask[string](w, `document.querySelector(".picker-code").textContent + document.querySelector(".p-plastic").textContent`); !strings.Contains(said, "5 to 10") || !strings.Contains(said, "2 places") {
		t.Errorf("it says %q", said)
	}
	if said := ask[string](w, `document.querySelector(".picker-warnings").textContent`); said != "" {
		t.Errorf("it warns: %s", said)
	}
	if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("the page is %d px wide on a phone", wide)
	}
	for _, small := range ask[[]string](w, smallTargets) {
		t.Error(small)
	}
	w.picture("colour-phone")
	w.accessible("/record/colour", 390)
	w.press("record the colour")
	if h := w.heading(); !strings.Contains(h, "regrind") {
		t.Errorf("afterwards it says %q", h)
	}
	for _, fault := range w.complaints() {
		t.Error(fault)
	}
}

// TestAPoorPhotoIsToldOf: clipped, dark and coloured cards, with the keyboard.
func TestAPoorPhotoIsToldOf(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), demoShop(t, Options{}))
	plastic := [2]color.RGBA{{60, 60, 60, 255}, {60, 60, 60, 255}}
	for want, card := range map[string]color.RGBA{"over-exposed": {255, 250, 250, 255}, "very dark": {70, 70, 70, 255}, "looks coloured": {240, 190, 150, 255}, "brighter than the card": {50, 50, 50, 255}} {
		w.at("/record/colour?lot=R1")
		w.do("picture", chromedp.SetUploadFiles(chromedp.CSS(`#p-file`), []string{cardPhoto(t, [2]color.RGBA{card, card}, plastic)}))
		w.until("the picture is drawn", `!document.querySelector(".picker-work").hidden`)
		// From the middle one step left is the card, then two right the plastic.
		w.do("the keyboard", chromedp.Focus(chromedp.CSS(".picker-photo")), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.Enter),
			chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.ArrowRight), chromedp.KeyEvent(kb.Enter))
		w.until("a code", `document.querySelector('[name="rgb"]').value !== ""`)
		if said := ask[string](w, `document.querySelector(".picker-warnings").textContent`); !strings.Contains(said, want) {
			t.Errorf("%s: it says %q", want, said)
		}
	}
	w.do("no picture", chromedp.SetUploadFiles(chromedp.CSS(`#p-file`), []string{"colouring_test.go"}))
	w.until("it is told", `document.querySelector(".picker .wrong") !== null`)
}
