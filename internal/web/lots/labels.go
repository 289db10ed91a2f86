package lots

import (
	"cmp"
	"errors"
	"html/template"
	"net"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"hopperful/fact"
	sticker "hopperful/internal/label"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/plan/label"
	"hopperful/shop"
)

// mostLabels bounds the labels of one document.
const mostLabels = 500

// labelsView is the page of labels to print.
type labelsView struct {
	Wrong    *forms.Wrong
	Lots     string
	Sizes    []forms.Option
	Size     string
	Skip     string
	Address  string
	Loopback string        // what is said when a phone would not find the shop
	Drawing  template.HTML // the first page
	PDF      string
}

// ShowLabels shows labels, ready to be printed; .pdf sends them as a document.
func ShowLabels(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	v := labelsView{Lots: d.Query("lots"), Size: cmp.Or(d.Query("size"), sticker.Sizes[0].Key), Skip: cmp.Or(d.Query("skip"), "0"), Address: cmp.Or(d.Query("address"), ownAddress(r))}
	for _, x := range sticker.Sizes {
		v.Sizes = append(v.Sizes, forms.Option{Value: x.Key, Say: d.Say.Decimal(x.String())})
	}
	if u, err := url.Parse(v.Address); err == nil && onlyHere(u.Hostname()) {
		v.Loopback = d.Say.Line("page.labels_loopback", fact.Name("host", u.Host))
	}
	sheets, bad, err := drawLabels(d, &v)
	switch {
	case err != nil:
		s.FailWith(w, r, err)
		return
	case bad != nil:
		v.Wrong = bad
	case strings.HasSuffix(r.URL.Path, ".pdf"):
		w.Header().Set("Content-Type", "application/pdf")
		w.Header().Set("Content-Disposition", `inline; filename="labels.pdf"`)
		w.Write(sheets.PDF())
		return
	default:
		v.Drawing = template.HTML(sheets.SVG(0)) // our own drawing, its text escaped
		v.PDF = "/labels.pdf?" + url.Values{"lots": {v.Lots}, "size": {v.Size}, "skip": {v.Skip}, "address": {v.Address}}.Encode()
	}
	status := http.StatusOK
	if v.Wrong != nil {
		status = http.StatusUnprocessableEntity
	}
	s.Render(w, r, status, "labels", site.View{Title: d.Say.Line("page.labels_title"), Place: "stock", Crumb: site.PlaceLink("stock"), Body: v})
}

// ownAddress is the address this page was asked for by.
func ownAddress(r *http.Request) string {
	if r.TLS != nil {
		return "https://" + r.Host
	}
	return "http://" + r.Host
}

// onlyHere says whether a host is the computer itself.
func onlyHere(host string) bool {
	ip := net.ParseIP(host)
	return strings.EqualFold(host, "localhost") || ip != nil && ip.IsLoopback()
}

// drawLabels lays the labels out, or says what is wrong with what was asked.
func drawLabels(d *desk.Desk, v *labelsView) (sticker.Sheets, *forms.Wrong, error) {
	no := func(say, hint string) (sticker.Sheets, *forms.Wrong, error) {
		return sticker.Sheets{}, &forms.Wrong{Say: say, Hint: hint}, nil
	}
	size, ok := sticker.SizeOf(v.Size)
	if !ok {
		return no(d.Say.Line("page.labels_no_size"), "")
	}
	base, ok := sticker.Base(v.Address)
	if !ok {
		return no(d.Say.Line("page.labels_no_address", fact.Name("text", site.Clip(v.Address))), d.Say.Line("page.labels_like"))
	}
	skip, err := strconv.Atoi(v.Skip)
	if err != nil || skip < 0 || skip >= size.PerPage() {
		return no(d.Say.Line("page.labels_no_skip", fact.Name("text", site.Clip(v.Skip)), fact.Count("most", size.PerPage()-1)), "")
	}
	var ids []shop.LotID
	for _, word := range strings.FieldsFunc(v.Lots, func(r rune) bool { return r == ' ' || r == ',' || r == ';' }) {
		id, err := shop.ParseLot(word)
		if err != nil {
			return sticker.Sheets{}, nil, err
		}
		ids = append(ids, id)
	}
	if v.Lots == "" {
		for _, l := range d.State.Stock("") {
			ids = append(ids, l.ID)
		}
	}
	if len(ids) > mostLabels {
		return no(d.Say.Line("page.labels_too_many", fact.Count("n", len(ids)), fact.Count("most", mostLabels)), d.Say.Line("page.labels_name_some"))
	}
	if len(ids) == 0 {
		return no(d.Say.Line("page.labels_none"), d.Say.Line("page.labels_take_in"))
	}
	var stickers []sticker.Sticker
	for _, id := range ids {
		l, err := label.Of(d.State, id, d.Now)
		if err != nil {
			return sticker.Sheets{}, nil, err
		}
		stickers = append(stickers, sticker.Worded(d.Say, l, base))
	}
	sheets, err := sticker.Draw(stickers, size, skip)
	var fine *sticker.TooLong
	if errors.As(err, &fine) {
		return no(d.Say.Line("page.labels_too_fine"), d.Say.Line("page.labels_larger"))
	}
	return sheets, nil, err
}
