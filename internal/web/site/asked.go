package site

import (
	"net/http"
	"strconv"

	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/shop"
)

// Unreadable answers a program, or who wants a file, that something it asked with
// cannot be read; false when all can.
func (s *Site) Unreadable(w http.ResponseWriter, r *http.Request, a forms.Asked) bool {
	first, wrong := a.In.FirstWrong()
	if wrong {
		s.Fail(w, r, Fault{http.StatusUnprocessableEntity, first.Say, first.Hint})
	}
	return wrong
}

// Clip keeps quoted input in a message short.
func Clip(text string) string { return text[:min(len(text), 40)] }

// LotAsked is the lot of an address, or the answer that there is none.
func (s *Site) LotAsked(w http.ResponseWriter, r *http.Request, d *desk.Desk) (*shop.Lot, bool) {
	id, err := shop.ParseLot(r.PathValue("lot"))
	l, ok := d.State.Lot(id)
	if err != nil || !ok {
		s.Fail(w, r, Fault{http.StatusNotFound, d.Say.Line("shop.no_lot", fact.Name("lot", r.PathValue("lot"))), d.Say.Line("shop.stock_lists")})
		return nil, false
	}
	return l, true
}

// Found reads the record's number from the address.
func (s *Site) Found(w http.ResponseWriter, r *http.Request, d *desk.Desk) (shop.Record, bool) {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil {
		s.ShowMissing(w, r)
		return shop.Record{}, false
	}
	if rec, ok := d.State.Record(shop.RecordID(id)); ok {
		return rec, true
	}
	if rec, ok := d.State.Written(shop.RecordID(id)); ok {
		return rec, true
	}
	s.Fail(w, r, Fault{http.StatusNotFound, d.Say.Line("form.there_is_no_record", fact.Name("format_int", strconv.FormatInt(id, 10))), "form.no_such_record_advice"})
	return shop.Record{}, false
}

// mostTable bounds a request with a table: the file and a little around it.
const mostTable = exchange.MostBytes + 1<<20

// ReadTable takes a form with a file of a table; one that is too large is told so.
// The caller removes the form's files.
func (s *Site) ReadTable(w http.ResponseWriter, r *http.Request, tooMuch, hint string) bool {
	r.Body = http.MaxBytesReader(w, r.Body, mostTable)
	if r.ParseMultipartForm(forms.MostForm) != nil {
		s.Fail(w, r, Fault{http.StatusRequestEntityTooLarge, tooMuch, hint})
		return false
	}
	return true
}

// WrongTable is what is wrong with a table that was sent.
func WrongTable(p *say.Printer, err error) *forms.Wrong {
	say, hint := forms.Said(p, err)
	return &forms.Wrong{Say: say, Hint: hint}
}
