package web

import (
	"net/http"

	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/quantity"
)

// liquidView is the page that says how to mix a liquid and what floats in it.
type liquidView struct {
	Answer docView
	Top    []floatRow // what floats, the lightest first
	Bottom []floatRow // what sinks
	Line   string     // the liquid's density in words
	Back   *link
	Ask    formView
}

// floatRow is a plastic on the axis of densities.
type floatRow struct {
	figView
	Floats string // how many of 100 chips
}

// liquidSheet asks for a liquid, by its density or its strength.
func liquidSheet(p *say.Printer) sheet {
	return sheet{Submit: p.Line("page.how_to_mix"), Groups: []group{{Fields: []field{
		{Path: "liquid", Label: p.Line("page.liquid"), As: asSelect, Choices: liquidOptions(p), First: string(identify.Brine)},
		amount("density", p.Line("page.density_wanted"), quantity.Density, "g/cm³", ""),
		amount("strength", p.Line("page.or_strength"), quantity.Share, "%", p.Line("page.or_strength_help")),
		amount("temperature", p.Line("page.used_at"), quantity.Temperature, "°C", p.Line("page.empty_takes_room")),
		{Path: "back", As: asHidden},
	}}}}
}

func (s *server) showLiquid(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	sh := liquidSheet(d.say)
	a := readQuery(d.say, r.URL.Query(), sh)
	a.in.say = d.say
	req := identification.LiquidRequest{Liquid: identify.Liquid(a.words["liquid"]), Density: a.numbers["density"], Strength: a.numbers["strength"], Temperature: a.numbers["temperature"]}
	asked := req.Liquid != ""
	if asked && req.Liquid != identify.Water && len(a.in.Wrong) == 0 && a.number("density") == nil && a.number("strength") == nil {
		a.in.refuse("density", d.say.Line("page.how_dense"), d.say.Line("page.how_dense_help"))
	}
	if !asked {
		req.Liquid = identify.Water // what everybody has
	}
	var mix identification.LiquidMix
	if len(a.in.Wrong) == 0 {
		if _, err := identify.FindLiquid(string(req.Liquid)); err != nil {
			say, hint := saidIn(d.say, err)
			a.in.refuse("liquid", say, hint)
		} else if mix, err = identification.Liquid(req); err != nil && (wantsJSON(r) || !a.refused(err)) {
			s.failWith(w, r, err)
			return
		}
	}
	if wantsJSON(r) {
		if !s.unreadable(w, r, a) {
			writeJSON(w, http.StatusOK, d.say.Document(mix.Document))
		}
		return
	}
	v, status := viewLiquid(d.say, mix), http.StatusOK
	if len(a.in.Wrong) > 0 {
		v.Answer.Answer, status = d.say.Line("page.cannot_mix"), http.StatusUnprocessableEntity
	}
	v.Back = &link{localPath(r.URL.Query().Get("back"), "/identify"), d.say.Line("page.piece")}
	v.Ask = askForm(r, sh, a)
	s.render(w, r, status, "liquid", view{Title: d.say.Line("go.mix"), Place: "materials", Crumb: v.Back, Body: v})
}

func viewLiquid(p *say.Printer, m identification.LiquidMix) liquidView {
	if len(m.Figures) == 0 {
		return liquidView{}
	}
	v := liquidView{Answer: viewDocument(p, m.Document), Line: p.Number(quantity.Density.Show(m.Density))}
	v.Answer.Leading, v.Answer.Reasons = nil, nil // drawn
	chance := map[string]figure.Figure{}
	axis := scale{m.Density, m.Density}
	for _, f := range m.Floats {
		chance[f.Name] = f
	}
	for _, f := range m.Spread {
		axis.from, axis.to = min(axis.from, f.Low), max(axis.to, f.High)
	}
	for _, f := range m.Spread {
		row := floatRow{figView: viewFigureIn(p, f), Floats: p.Fact(identification.Percent("", chance[f.Name].Value))}
		row.Bar = rangeBar(f, axis)
		row.Bar.HasLimit, row.Bar.LimitAt = true, axis.at(m.Density)
		if f.Value < m.Density {
			v.Top = append(v.Top, row)
		} else {
			v.Bottom = append(v.Bottom, row)
		}
	}
	return v
}
