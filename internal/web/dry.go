package web

import (
	"fmt"
	"net/http"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/fit"
	"hopperful/quantity"
	"hopperful/shop"
)

// wayOptions name the ways to dry.
var wayOptions = map[shop.Way]string{shop.Oven: "form.an_oven", shop.Dehydrator: "form.a_food_dehydrator", shop.DesiccantBox: "form.a_box_with_desiccant", shop.DryAir: "form.a_dryer_with_dry_air"}

// dryAskSheet asks with what and how it is dried.
func dryAskSheet() sheet {
	ways := []option{{"", "form.what_the_shop_has"}}
	for _, w := range fit.DryWays() {
		ways = append(ways, option{string(w), wayOptions[w]})
	}
	return sheet{Submit: "form.reckon_again", Groups: []group{{Fields: []field{
		{Path: "way", Label: "form.dried_in", As: asSelect, Choices: ways},
		amount("temperature_k", "form.temperature", quantity.Temperature, "°C", "form.empty_takes_what_is_usual"),
		amount("bed_m", "form.depth_of_the_heap", quantity.Length, "mm", "form.empty_takes_as_deep_as"),
		amount("mass_kg", "form.mass_to_dry", quantity.Mass, "g", "form.empty_takes_the_lot"),
		amount("dew_point_k", "form.dew_point_of_a_dry", quantity.Temperature, "°C", "form.empty_takes_30_c"),
		amount("humidity", "form.humidity_a_desiccant_keeps", quantity.Humidity, "%RH", "form.empty_takes_10_rh"),
		amount("start", "form.water_in_it_now", quantity.Share, "%", "form.empty_takes_what_its_records"),
	}}}}
}

// dryAsked reads the address /dry/LOT?way=….
func (s *server) dryAsked(w http.ResponseWriter, r *http.Request, d *desk) (fit.DryRequest, asked, bool) {
	id, err := shop.ParseLot(r.PathValue("lot"))
	if _, ok := d.state.Lot(id); err != nil || !ok {
		s.fail(w, r, fault{http.StatusNotFound, d.say.Line("form.no_lot_of_path", fact.Name("path_value", r.PathValue("lot"))), "form.labels_look_like_r12_the"})
		return fit.DryRequest{}, asked{}, false
	}
	a := readQuery(d.say, r.URL.Query(), dryAskSheet())
	return fit.DryRequest{Lot: id, Way: shop.Way(a.words["way"]), Temperature: a.number("temperature_k"), Bed: a.number("bed_m"), Mass: a.number("mass_kg"),
		DewPoint: a.number("dew_point_k"), Humidity: a.number("humidity"), Start: a.number("start"), Now: d.now}, a, true
}

func (s *server) askDrying(st *shop.State, req fit.DryRequest, a asked) *job {
	key := fmt.Sprintf("%d|%s|%s", st.Newest().ID, req.Lot, a.key())
	return s.slow.ask("drying", key, func() (any, error) { return fit.Dry(st, req) })
}

func (s *server) showDrying(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	req, a, ok := s.dryAsked(w, r, d)
	if !ok {
		return
	}
	lot := fact.Name("lot", string(req.Lot))
	back := view{Title: d.say.Line("page.dry_title", lot.As("lot")), Place: "stock", Crumb: &link{lotPath(req.Lot), string(req.Lot)}}
	found, ok := awaitAsked[fit.Drying](s, w, r, a, func() *job { return s.askDrying(d.state, req, a) }, d.say.Line("page.dry_waiting", lot.As("lot")), back)
	if !ok {
		return
	}
	v := answerView{Act: link{"/record/dry?lot=" + string(req.Lot) + "&way=" + queryEscape(string(found.Way)), d.say.Line("go.dried")}, More: []link{{"/fit?lot=" + string(req.Lot), d.say.Line("go.fit")}}}
	s.showAnswer(w, r, d, v, found.Document, dryAskSheet(), a, back)
}

func (s *server) downloadDrying(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	req, a, ok := s.dryAsked(w, r, d)
	if !ok || s.unreadable(w, r, a) {
		return
	}
	s.sendJob(w, r, s.askDrying(d.state, req, a), r.PathValue("chart"), func(v any) []answer.Chart { return d.say.Document(v.(fit.Drying).Document).Charts })
}
