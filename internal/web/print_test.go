package web

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/chromedp/chromedp"
)

// pdfPage is a page object of a PDF file (ISO 32000-1, 7.7.3.3), told from the
// page tree by its name.
var pdfPage = regexp.MustCompile(`/Type\s*/Page[^s]`)

// TestAPlanPrintsOnOneSheet prints a plan as a person would.
func TestAPlanPrintsOnOneSheet(t *testing.T) {
	t.Parallel()
	looksOnly(t)
	browser := oneBrowser(t)
	w := open(t, browser, shopToLookAt(t))
	w.at("/plan/four%20planter%20feet")
	w.until("the first chart is drawn; the folded ones are when it prints", `document.querySelectorAll("svg.plot").length >= 1`)
	ctx, end := context.WithTimeout(w.ctx, stepLimit)
	defer end()
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatal(err)
	}
	keepFile(t, "plan.pdf", pdf)
	if !bytes.HasPrefix(pdf, []byte("%PDF")) {
		t.Fatal("that is no PDF")
	}
	if n := len(pdfPage.FindAll(pdf, -1)); n != 1 {
		t.Errorf("the plan prints on %d sheets, it should be one", n)
	}
}

// keepFile stores a file among the artefacts, where there is a folder for them.
func keepFile(t *testing.T, name string, content []byte) {
	t.Helper()
	folder := os.Getenv("HOPPERFUL_ARTEFACTS")
	if folder == "" {
		return
	}
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, name), content, 0o644); err != nil {
		t.Fatal(err)
	}
}
