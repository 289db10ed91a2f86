package web

import (
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/internal/web/figures"
	"hopperful/source"
)

// A work with an address is linked, a standard shows its number, a word stands as it is.
func TestSourcesLeadSomewhere(t *testing.T) {
	t.Parallel()
	if v := figures.ViewSource(say.For(), source.Cite("PintoTadmor1970", "")); v.Link != "https://doi.org/10.1002/pen.760100505" || v.Title == "" || v.Mind != "address from memory" {
		t.Errorf("a paper: %+v", v)
	}
	if v := figures.ViewSource(say.For(), source.Cite("ISOCard2003", "")); v.Link != "" || v.Number != "ISO/IEC 7810" || v.Mind != "" {
		t.Errorf("a standard: %+v", v)
	}
	if v := figures.ViewSource(say.For(), source.Cite("Nielsen1977", "")); v.Link+v.Number != "" || v.Mind != "no address" {
		t.Errorf("a printed book: %+v", v)
	}
	if v := figures.ViewSource(say.For(), source.Cite("PlasticIndustry2026", "")); !strings.HasPrefix(v.Link, "https://") || v.Mind != "undated page" {
		t.Errorf("a seller's page: %+v", v)
	}
	if v := figures.ViewSource(say.For(), source.Cite("Azom2026", "")); !strings.HasPrefix(v.Link, "http://") {
		t.Errorf("a page without encryption is a page: %+v", v)
	}
	if v := figures.ViewSource(say.For(), source.Cite("judgement", "why")); v.Text != "judgement, why" || v.Link+v.Title+v.Number != "" {
		t.Errorf("a word: %+v", v)
	}
}
