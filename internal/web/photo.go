package web

import (
	"encoding/base64"
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/photo"
	"hopperful/process/grain"
	"hopperful/shop"
)

// photoView is the page on which a photograph of a lot, or to a record, is sent.
type photoView struct {
	Wrong  *fault
	Of     string // what it will be of
	Lot    string
	Record string
	Note   string
	By     string
	Back   string
}

// pictureLine is one kept photograph.
type pictureLine struct {
	Src, To    string
	When, Note string
}

// album are the photographs of a lot or to a record, the newest first.
func (d *desk) album(lot shop.LotID, record shop.RecordID) []pictureLine {
	var all []pictureLine
	for _, e := range d.state.PicturesOf(lot, record) {
		all = append(all, pictureLine{Src: keptPicture(e.Record), To: "/records/" + toString(e.ID), When: d.clock(e.At), Note: e.Note})
	}
	return all
}

// photoPath is where a photograph of a lot, or to a record, is sent.
func photoPath(lot shop.LotID, record shop.RecordID) string {
	q := url.Values{}
	if lot != "" {
		q.Set("lot", string(lot))
	}
	if record != 0 {
		q.Set("record", toString(record))
	}
	return "/photo?" + q.Encode()
}

// photoOf reads what a photograph shall be of.
func (d *desk) photoOf(value func(string) string) (*shop.Pictured, photoView) {
	b := &shop.Pictured{}
	v := photoView{Lot: value("lot"), Record: value("record"), Note: value("note"), By: value("by"), Back: "/stock"}
	if id, err := shop.ParseLot(v.Lot); err == nil {
		b.Lot, v.Of, v.Back = id, d.say.Line("page.photo_of_lot", fact.Name("lot", string(id))), lotPath(id)
	}
	if n, err := strconv.Atoi(v.Record); err == nil && n > 0 {
		b.Record, v.Of, v.Back = shop.RecordID(n), d.say.Line("page.photo_of_record", fact.Count("n", n)), "/records/"+v.Record
	}
	return b, v
}

func (s *server) showPhoto(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	b, v := d.photoOf(d.query)
	if b.Lot == "" && b.Record == 0 {
		s.showMissing(w, r)
		return
	}
	s.drawPhoto(w, r, d, http.StatusOK, v)
}

func (s *server) drawPhoto(w http.ResponseWriter, r *http.Request, d *desk, status int, v photoView) {
	s.render(w, r, status, "photo", view{Title: d.say.Line("page.photo_title"), Place: "stock", Crumb: &link{v.Back, d.say.Line("page.photo_back")}, Body: v})
}

// postPhoto keeps a photograph, upright and small.
func (s *server) postPhoto(w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, photo.MostBytes+mostForm)
	err := r.ParseMultipartForm(uploadInMemory)
	if r.MultipartForm != nil {
		defer r.MultipartForm.RemoveAll()
	}
	d := s.desk(r)
	b, v := d.photoOf(r.FormValue)
	again := func(f fault) {
		v.Wrong = &f
		s.drawPhoto(w, r, d, f.Status, v)
	}
	if err != nil {
		again(*d.refusedPicture(&grain.Refusal{Code: grain.TooLarge, Value: photo.MostBytes, Limit: photo.MostBytes, Unit: "B"}))
		return
	}
	file, head, err := r.FormFile("picture")
	if err != nil || head.Filename == "" {
		again(fault{http.StatusUnprocessableEntity, d.say.Line("page.grains_choose"), d.say.Line("page.photo_kinds")})
		return
	}
	defer file.Close()
	jpeg, err := photo.Kept(file)
	if err != nil {
		if f := d.refusedPicture(err); f != nil {
			again(*f)
			return
		}
		s.failWith(w, r, err)
		return
	}
	b.Picture = base64.StdEncoding.EncodeToString(jpeg)
	kept, err := s.store.Append(r.Context(), s.now(), shop.Record{By: strings.TrimSpace(v.By), Note: strings.TrimSpace(v.Note), Body: b})
	if refused := (*shop.Error)(nil); errors.As(err, &refused) {
		what, advice := d.say.Refusal(refused)
		again(fault{statusOf(refused.Code), what, advice})
		return
	}
	if err != nil {
		s.failWith(w, r, err)
		return
	}
	s.follow(w, r, v.Back, kept[0].ID)
}
