package prints

import (
	"fmt"
	"net/http"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/internal/web/waiting"
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// dryAskSheet asks with what and how it is dried.
func dryAskSheet() forms.Sheet {
	ways := []forms.Option{{Value: "", Say: "form.what_the_shop_has"}}
	for _, w := range fit.DryWays() {
		ways = append(ways, forms.Option{Value: string(w), Say: sheets.WayOptions[w]})
	}
	return forms.Sheet{Submit: "form.reckon_again", Groups: []forms.Group{{Fields: []forms.Field{
		{Path: "way", Label: "form.dried_in", As: forms.AsSelect, Choices: ways},
		forms.Amount("temperature_k", "form.temperature", quantity.Temperature, "°C", "form.usual_for_plastic"),
		forms.Amount("bed_m", "form.depth_of_the_heap", quantity.Length, "mm", "form.depth_help"),
		forms.Amount("mass_kg", "form.mass_to_dry", quantity.Mass, "g", "form.empty_takes_the_lot"),
		forms.Amount("dew_point_k", "form.dryer_dew_point", quantity.Temperature, "°C", "form.empty_takes_30_c"),
		forms.Amount("humidity", "form.humidity_a_desiccant_keeps", quantity.Humidity, "%RH", "form.empty_takes_10_rh"),
		forms.Amount("flow_m3_s", "page.dry_air", quantity.VolumeFlow, "L/min", "page.dry_air_help"),
		forms.Amount("start", "form.water_in_it_now", quantity.Share, "%", "form.moisture_begin_help"),
		forms.Amount("limit", "page.dry_limit", quantity.Share, "%", "page.dry_limit_help"),
	}}}}
}

// dryAsked reads the address /dry/LOT?way=….
func dryAsked(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk) (fit.DryRequest, forms.Asked, bool) {
	id, err := shop.ParseLot(r.PathValue("lot"))
	if _, ok := d.State.Lot(id); err != nil || !ok {
		s.Fail(w, r, site.Fault{Status: http.StatusNotFound, Say: d.Say.Line("form.no_lot_of_path", fact.Name("path_value", r.PathValue("lot"))), Hint: "form.no_such_lot_advice"})
		return fit.DryRequest{}, forms.Asked{}, false
	}
	a := forms.Read(d.Say, r.URL.Query(), dryAskSheet())
	return fit.DryRequest{Lot: id, Way: shop.Way(a.Words["way"]), Temperature: a.Number("temperature_k"), Bed: a.Number("bed_m"), Mass: a.Number("mass_kg"),
		DewPoint: a.Number("dew_point_k"), Flow: a.Number("flow_m3_s"), Humidity: a.Number("humidity"), Start: a.Number("start"), Limit: a.Number("limit"), Now: d.Now}, a, true
}

func askDrying(s *site.Site, st *shop.State, req fit.DryRequest, a forms.Asked) *waiting.Job {
	key := fmt.Sprintf("%d|%s|%s", st.Newest().ID, req.Lot, a.Key())
	return s.Slow.Ask("drying", key, func() (any, error) { return fit.Dry(st, req) })
}

// ShowDrying is the page of how to dry a lot.
func ShowDrying(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	req, a, ok := dryAsked(s, w, r, d)
	if !ok {
		return
	}
	lot := fact.Name("lot", string(req.Lot))
	back := site.View{Title: d.Say.Line("page.dry_title", lot.As("lot")), Place: "stock", Crumb: &address.Link{To: address.Lot(req.Lot), Say: string(req.Lot)}}
	found, ok := site.AwaitAsked[fit.Drying](s, w, r, a, func() *waiting.Job { return askDrying(s, d.State, req, a) }, d.Say.Line("page.dry_waiting", lot.As("lot")), back)
	if !ok {
		return
	}
	v := site.AnswerView{Act: address.Link{To: "/record/dry?lot=" + string(req.Lot) + "&way=" + address.Query(string(found.Way)), Say: d.Say.Line("go.dried")}, More: []address.Link{{To: "/fit?lot=" + string(req.Lot), Say: d.Say.Line("go.fit")}}}
	s.ShowAnswer(w, r, d, v, found.Document, dryAskSheet(), a, back)
}

// DownloadDrying sends the numbers of a drying's chart.
func DownloadDrying(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	req, a, ok := dryAsked(s, w, r, d)
	if !ok || s.Unreadable(w, r, a) {
		return
	}
	s.SendJob(w, r, askDrying(s, d.State, req, a), r.PathValue("chart"), func(v any) []answer.Chart { return d.Say.Document(v.(fit.Drying).Document).Charts })
}
