package web

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// Labels are drawn for what is on hand, or for the lots named, with the address this
// page was asked for by; an address that leads a phone to itself is told.
func TestLabelsOfTheShop(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	ask := func(path, host string) *httptest.ResponseRecorder {
		r := httptest.NewRequest("GET", path, nil)
		r.Host = host
		return b.ask(r)
	}
	page := ask("/labels?lots=R1%20r3&size=62x29", "192.168.1.20:8614").Body.String()
	for _, want := range []string{"<svg", ">R1</text>", `value="http://192.168.1.20:8614"`, "/labels.pdf?"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	if strings.Contains(page, "leads a phone to itself") {
		t.Error("an address of the network is doubted")
	}
	if page := ask("/labels", "127.0.0.1:8614").Body.String(); !strings.Contains(page, "leads a phone to itself") || !strings.Contains(page, ">R1</text>") {
		t.Error("a loopback address is not doubted, or not all on hand is drawn")
	}
	w := ask("/labels.pdf?lots=R1%20R3&size=62x29", "192.168.1.20:8614")
	if pdf := w.Body.String(); w.Header().Get("Content-Type") != "application/pdf" || strings.Count(pdf, "/Type /Page ") != 2 || !strings.Contains(pdf, "(R3) Tj") {
		t.Errorf("%d %v", w.Code, w.Header())
	}
	if w := ask("/labels.pdf?lots="+strings.Repeat("R1,", 501), "192.168.1.20:8614"); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "501 labels are more than the 500") {
		t.Errorf("501 labels are answered %d", w.Code)
	}
	for path, want := range map[string]int{"/labels?lots=R99": http.StatusNotFound, "/labels?lots=hello": http.StatusUnprocessableEntity, "/labels?size=1x1": http.StatusUnprocessableEntity,
		"/labels?address=nowhere": http.StatusUnprocessableEntity, "/labels?size=a4-65&address=http://" + strings.Repeat("long", 70) + ".example": http.StatusUnprocessableEntity} {
		if w := ask(path, "192.168.1.20:8614"); w.Code != want {
			t.Errorf("%s is answered %d, wanted %d", path, w.Code, want)
		}
	}
	if w := emptyShop(t, Options{}).get("/labels"); !strings.Contains(w.Body.String(), "nothing on hand to label") {
		t.Error("an empty shop is not told what to do")
	}
}

// The page fits a phone, and what is pressed is as tall as a thumb.
func TestLabelsOnAPhone(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	w.look(390, 844, false)
	w.at("/labels?lots=R1%20R3&size=62x29")
	w.picture("labels-390")
	if over := ask[float64](w, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
		t.Errorf("the page is %g px too wide", over)
	}
	if tall := ask[float64](w, `document.querySelector(".main-act").getBoundingClientRect().height`); tall < 44 {
		t.Errorf("the button is %g px tall", tall)
	}
	w.at("/labels?size=a4-24")
	w.picture("labels-sheet-390")
	if over := ask[float64](w, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
		t.Errorf("the page of a sheet is %g px too wide", over)
	}
	if list := w.complaints(); len(list) > 0 {
		t.Error(list)
	}
}

// A number of labels that cannot be gone is told, and stays.
func TestLabelsThatCannotBeGone(t *testing.T) {
	t.Parallel()
	b := demoShop(t, Options{})
	for _, typed := range []string{"x", "-1", "9999"} {
		if w := b.get("/labels?skip=" + typed); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `value="`+typed+`"`) {
			t.Errorf("%s answers %d", typed, w.Code)
		}
	}
}
