package web

import (
	"bytes"
	"context"
	"encoding/json"
	"html/template"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"hopperful/answer"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/site"
)

func TestFitnessIsAnsweredQuestionByQuestion(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	w := b.get("/fit/R1/four%20planter%20feet")
	body := w.Body.String()
	if w.Code != http.StatusOK {
		t.Fatalf("it answers %d: %s", w.Code, firstHeading(body))
	}
	inOrder(t, headingsOf(body), "What to do", "In numbers", "What is not a yes yet")
	for _, want := range []string{`/fit/R1/four%20planter%20feet/`, ".csv", `href="/dry/R1"`, "chance that all of it goes well", "Question by question", "What would change an answer", "Room for what you find", "First layer"} {
		if !strings.Contains(body, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
}

func TestEveryVerdictHasItsMark(t *testing.T) {
	t.Parallel()
	seen := map[template.HTML]bool{}
	for _, v := range []answer.Verdict{answer.Yes, answer.Likely, answer.Open, answer.Unknown, answer.Unlikely, answer.No} {
		m := figures.MarkOf(v)
		if m.Word != string(v) || m.Shape == "" || seen[m.Shape] {
			t.Errorf("%q is marked %q", v, m.Word)
		}
		seen[m.Shape] = true
	}
	if figures.MarkOf(answer.Fits) != (figures.Mark{Word: "fits", Shape: figures.MarkOf(answer.Yes).Shape}) {
		t.Error("what fits is not marked like a yes")
	}
}

func TestALotAndAPrintAreChosen(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	if body := b.get("/fit?lot=R1").Body.String(); !strings.Contains(body, `href="/fit/R1/vase"`) && !strings.Contains(body, `href="/fit/R1/four%20planter%20feet"`) {
		t.Error("no print is offered for R1")
	}
	if w := b.get("/fit?lot=R1&need=vase"); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/fit/R1/vase" {
		t.Errorf("the choice answers %d to %q", w.Code, w.Header().Get("Location"))
	}
	for _, path := range []string{"/fit/R99/vase", "/fit/R1/nothing", "/fit/x/vase", "/dry/R99", "/fit/R1/vase/nothing.csv"} {
		if w := b.get(path); w.Code != http.StatusNotFound {
			t.Errorf("%s answers %d", path, w.Code)
		}
	}
}

func TestWhatCannotBeAskedStaysTyped(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	for path, want := range map[string]string{
		"/fit/R1/vase?nozzle_m=80+mm":        `id="f-nozzle_m-wrong"`,
		"/fit/R1/vase?temperature_k=banana":  `value="banana"`,
		"/fit/R1/vase?strength=250+%25":      `id="f-strength-wrong"`,
		"/dry/R1?temperature_k=18000+°C":     `value="18000 °C"`,
		"/dry/R1?bed_m=-4":                   `id="f-bed_m-wrong"`,
		"/reckon/drying?humidity=900":        `value="900"`,
		"/reckon/drying?size=a+handful":      `id="f-size-wrong"`,
		"/reckon/drying?material=unobtanium": `value="unobtanium"`,
	} {
		w := b.get(path)
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), want) {
			t.Errorf("%s answers %d: %s", path, w.Code, firstHeading(w.Body.String()))
		}
		r := httptest.NewRequest("GET", path, nil)
		r.Header.Set("Accept", "application/json")
		var refused site.Fault
		if w := b.ask(r); w.Code/100 != 4 || json.Unmarshal(w.Body.Bytes(), &refused) != nil || refused.Say == "" {
			t.Errorf("%s answers a program %d: %.90s", path, w.Code, w.Body)
		}
	}
	if w := b.get("/dry/R1/drying.csv?bed_m=banana"); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a chart of what cannot be read answers %d", w.Code)
	}
}

func TestDryingIsPlanned(t *testing.T) {
	t.Parallel()
	b := shopToLookAt(t)
	body := b.get("/dry/R1?way=dry+air").Body.String()
	inOrder(t, headingsOf(body), "What to do", "In numbers")
	r := httptest.NewRequest("GET", "/dry/R1", nil)
	r.Header.Set("Accept", "application/json")
	var found struct {
		Answer string
		Steps  []any
	}
	if w := b.ask(r); json.Unmarshal(w.Body.Bytes(), &found) != nil || !strings.Contains(found.Answer, "R1") || len(found.Steps) == 0 {
		t.Errorf("the JSON answers %d: %.90s", w.Code, w.Body)
	}
}

// TestThePrintersSheetIsOnePage prints the fitness page, and looks at it.
func TestThePrintersSheetIsOnePage(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	w := open(t, oneBrowser(t), shopToLookAt(t))
	w.look(390, 844, false)
	w.at("/fit/R1/four%20planter%20feet")
	if wide := ask[int64](w, `document.documentElement.scrollWidth`); wide > 390 {
		t.Errorf("the page is %d px wide on a phone", wide)
	}
	w.picture("fit-phone")
	w.look(1280, 844, false)
	w.at("/fit/R1/four%20planter%20feet")
	w.until("the charts are drawn", `document.querySelectorAll("svg.plot").length >= 1`)
	w.picture("fit-desk")
	ctx, end := context.WithTimeout(w.ctx, stepLimit)
	defer end()
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	keepFile(t, "printer-sheet.pdf", pdf)
	if n := len(pdfPage.FindAll(pdf, -1)); n != 1 || !bytes.HasPrefix(pdf, []byte("%PDF")) {
		t.Errorf("it prints on %d sheets, it should be one", n)
	}
	w.accessible("/fit", 1280)
	w.at("/dry/R1")
	w.picture("dry-desk")
	w.accessible("/dry", 390)
}
