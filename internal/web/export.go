package web

import (
	"bytes"
	"net/http"
	"strconv"

	"hopperful/internal/exchange"
	"hopperful/internal/web/desk"
)

// downloadAll sends everything the shop holds, in the form the name asks for. It is
// made whole first, so that a fault is no half file.
func (s *server) downloadAll(w http.ResponseWriter, r *http.Request) {
	st := s.Store.State()
	var text bytes.Buffer
	var err error
	kind := ""
	switch r.PathValue("file") {
	case "shop.jsonl":
		kind, err = "application/x-ndjson", exchange.WriteLines(&text, st.History.List())
	case "shop.csv":
		kind, err = "text/csv; charset=utf-8", exchange.WriteRecordsCSV(&text, st, desk.Speaks(r, st).Comma())
	case "shop.xlsx":
		kind, err = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", exchange.WriteRecordsXLSX(&text, st)
	default:
		s.ShowMissing(w, r)
		return
	}
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	h := w.Header()
	h.Set("Content-Type", kind)
	h.Set("Content-Disposition", `attachment; filename="`+r.PathValue("file")+`"`)
	h.Set("Content-Length", strconv.Itoa(text.Len()))
	h.Set("Cache-Control", "no-store")
	text.WriteTo(w)
}
