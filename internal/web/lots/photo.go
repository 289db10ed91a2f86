package lots

import (
	"encoding/base64"
	"errors"
	"net/http"
	"strconv"
	"strings"

	"hopperful/fact"
	"hopperful/internal/photo"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/prints"
	"hopperful/internal/web/site"
	"hopperful/process/grain"
	"hopperful/shop"
)

// photoView is the page on which a photograph of a lot, or to a record, is sent.
type photoView struct {
	Wrong  *site.Fault
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
func album(d *desk.Desk, lot shop.LotID, record shop.RecordID) []pictureLine {
	var all []pictureLine
	for _, e := range d.State.PicturesOf(lot, record) {
		all = append(all, pictureLine{Src: KeptPicture(e.Record), To: "/records/" + address.Number(e.ID), When: d.Clock(e.At), Note: e.Note})
	}
	return all
}

// photoOf reads what a photograph shall be of.
func photoOf(d *desk.Desk, value func(string) string) (*shop.Pictured, photoView) {
	b := &shop.Pictured{}
	v := photoView{Lot: value("lot"), Record: value("record"), Note: value("note"), By: value("by"), Back: "/stock"}
	if id, err := shop.ParseLot(v.Lot); err == nil {
		b.Lot, v.Of, v.Back = id, d.Say.Line("page.photo_of_lot", fact.Name("lot", string(id))), address.Lot(id)
	}
	if n, err := strconv.Atoi(v.Record); err == nil && n > 0 {
		b.Record, v.Of, v.Back = shop.RecordID(n), d.Say.Line("page.photo_of_record", fact.Count("n", n)), "/records/"+v.Record
	}
	return b, v
}

// ShowPhoto is the page a photograph is sent from.
func ShowPhoto(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	b, v := photoOf(d, d.Query)
	if b.Lot == "" && b.Record == 0 {
		s.ShowMissing(w, r)
		return
	}
	drawPhoto(s, w, r, d, http.StatusOK, v)
}

func drawPhoto(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk, status int, v photoView) {
	s.Render(w, r, status, "photo", site.View{Title: d.Say.Line("page.photo_title"), Place: "stock", Crumb: &address.Link{To: v.Back, Say: d.Say.Line("page.photo_back")}, Body: v})
}

// PostPhoto keeps a photograph, upright and small.
func PostPhoto(s *site.Site, w http.ResponseWriter, r *http.Request) {
	r.Body = http.MaxBytesReader(w, r.Body, photo.MostBytes+forms.MostForm)
	err := r.ParseMultipartForm(prints.UploadInMemory)
	if r.MultipartForm != nil {
		defer r.MultipartForm.RemoveAll()
	}
	d := s.Desk(r)
	b, v := photoOf(d, r.FormValue)
	again := func(f site.Fault) {
		v.Wrong = &f
		drawPhoto(s, w, r, d, f.Status, v)
	}
	if err != nil {
		again(*RefusedPicture(d, &grain.Refusal{Code: grain.TooLarge, Value: photo.MostBytes, Limit: photo.MostBytes, Unit: "B"}))
		return
	}
	file, head, err := r.FormFile("picture")
	if err != nil || head.Filename == "" {
		again(site.Fault{Status: http.StatusUnprocessableEntity, Say: d.Say.Line("page.grains_choose"), Hint: d.Say.Line("page.photo_kinds")})
		return
	}
	defer file.Close()
	jpeg, err := photo.Kept(file)
	if err != nil {
		if f := RefusedPicture(d, err); f != nil {
			again(*f)
			return
		}
		s.FailWith(w, r, err)
		return
	}
	b.Picture = base64.StdEncoding.EncodeToString(jpeg)
	kept, err := s.Store.Append(r.Context(), s.Now(), shop.Record{By: strings.TrimSpace(v.By), Note: strings.TrimSpace(v.Note), Body: b})
	if refused := (*shop.Error)(nil); errors.As(err, &refused) {
		what, advice := d.Say.Refusal(refused)
		again(site.Fault{Status: site.StatusOf(refused.Code), Say: what, Hint: advice})
		return
	}
	if err != nil {
		s.FailWith(w, r, err)
		return
	}
	s.Follow(w, r, v.Back, kept[0].ID)
}

// KeptPicture is where the picture kept with a record is; "" where none was kept.
func KeptPicture(rec shop.Record) string {
	if JpegOf(rec) == nil {
		return ""
	}
	return "/records/" + address.Number(rec.ID) + "/picture.jpg"
}

// JpegOf is the picture kept with a record; nil where none was kept.
func JpegOf(rec shop.Record) []byte {
	switch b := rec.Body.(type) {
	case *shop.Sieved:
		return b.Kept()
	case *shop.Pictured:
		return b.JPEG()
	}
	return nil
}

// RefusedPicture words why a picture was not measured; nil when that is not it.
func RefusedPicture(d *desk.Desk, err error) *site.Fault {
	var refused *grain.Refusal
	if !errors.As(err, &refused) {
		return nil
	}
	what, remedy := photo.Refusal(d.Say, refused)
	return &site.Fault{Status: http.StatusUnprocessableEntity, Say: what, Hint: remedy}
}
