package web

import (
	"cmp"
	"io"
	"net/http"
	"net/url"
	"strings"

	"hopperful/internal/exchange"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
)

// postTable reads a pasted table or a file with a stack and shows it on the
// sheet, for a person to look at; nothing is written yet.
func (s *server) postTable(w http.ResponseWriter, r *http.Request) {
	if !s.ReadTable(w, r, "form.stack_too_long", "form.stack_too_long_advice") {
		return
	}
	defer r.MultipartForm.RemoveAll()
	d := s.Desk(r)
	name, body, size := d.Say.Line("page.notebook_pasted_name"), io.Reader(strings.NewReader(r.FormValue("table"))), int64(len(r.FormValue("table")))
	if f, head, err := r.FormFile("file"); err == nil {
		defer f.Close()
		name, body, size = head.Filename, f, head.Size
	}
	read, err := exchange.ReadStack(name, body, size, exchange.Reading{})
	if err != nil {
		s.drawStack(w, r, d, url.Values{"lot": {r.FormValue("lot")}}, url.Values{}, func(v *sheets.StackChoice) {
			v.Table, v.Wrong = r.FormValue("table"), site.WrongTable(d.Say, err)
		})
		return
	}
	q := sheets.StackQuery(sheets.StackBody(read))
	q.Set("lot", cmp.Or(r.FormValue("lot"), read.Lot))
	s.drawStack(w, r, d, q, sheets.FilledStack(d.Say, read), func(v *sheets.StackChoice) { v.Notes = d.Say.All(read.Notes) })
}

// drawStack shows the sheet for the stack the query asks for, filled in.
func (s *server) drawStack(w http.ResponseWriter, r *http.Request, d *desk.Desk, q, values url.Values, edit func(*sheets.StackChoice)) {
	d.Query = q.Get
	sh := sheets.Sieve(d)
	f := forms.Laid(sh, forms.NewInput(d.Say, values), "/record/sieve?"+q.Encode(), d.State.People)
	v := site.SheetView{Form: f, Stack: sheets.StackOf(d, sh.Stack), Latest: site.LatestBeside(d, sh)}
	edit(v.Stack)
	status := http.StatusOK
	if v.Stack.Wrong != nil {
		status = http.StatusUnprocessableEntity
	}
	s.Render(w, r, status, "sheet", site.View{Title: sh.Title, Place: sh.Place, Crumb: site.PlaceLink(sh.Place), Body: v})
}
