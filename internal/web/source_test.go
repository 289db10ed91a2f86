package web

import (
	"testing"

	"hopperful/source"
)

// A work with an address is linked, a standard shows its number, a word stands as it is.
func TestSourcesLeadSomewhere(t *testing.T) {
	t.Parallel()
	if v := viewSource(source.Cite("PintoTadmor1970", "")); v.Link != "https://doi.org/10.1002/pen.760100505" || v.Title == "" {
		t.Errorf("a paper: %+v", v)
	}
	if v := viewSource(source.Cite("ISOCard2003", "")); v.Link != "" || v.Number != "ISO/IEC 7810" {
		t.Errorf("a standard: %+v", v)
	}
	if v := viewSource(source.Cite("judgement", "why")); v.Text != "judgement, why" || v.Link+v.Title+v.Number != "" {
		t.Errorf("a word: %+v", v)
	}
}
