package identify

import (
	"net/http"

	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/figures"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/site"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/quantity"
)

// liquidView is the page that says how to mix a liquid and what floats in it.
type liquidView struct {
	Answer figures.Document
	Top    []floatRow // what floats, the lightest first
	Bottom []floatRow // what sinks
	Line   string     // the liquid's density in words
	Back   *address.Link
	Ask    forms.View
}

// floatRow is a plastic on the axis of densities.
type floatRow struct {
	figures.View
	Floats string // how many of 100 chips
}

// liquidSheet asks for a liquid, by its density or its strength.
func liquidSheet(p *say.Printer) forms.Sheet {
	return forms.Sheet{Submit: p.Line("page.how_to_mix"), Groups: []forms.Group{{Fields: []forms.Field{
		{Path: "liquid", Label: p.Line("page.liquid"), As: forms.AsSelect, Choices: liquidOptions(p), First: string(identify.Brine)},
		forms.Amount("density", p.Line("page.density_wanted"), quantity.Density, "g/cm³", ""),
		forms.Amount("strength", p.Line("page.or_strength"), quantity.Share, "%", p.Line("page.or_strength_help")),
		forms.Amount("temperature", p.Line("page.used_at"), quantity.Temperature, "°C", p.Line("page.empty_takes_room")),
		{Path: "back", As: forms.AsHidden},
	}}}}
}

// ShowLiquid is the page of mixing a liquid: /identify/liquid?liquid=…&density=….
func ShowLiquid(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	sh := liquidSheet(d.Say)
	a := forms.Read(d.Say, r.URL.Query(), sh)
	a.In.Say = d.Say
	req := identification.LiquidRequest{Liquid: identify.Liquid(a.Words["liquid"]), Density: a.Numbers["density"], Strength: a.Numbers["strength"], Temperature: a.Numbers["temperature"]}
	asked := req.Liquid != ""
	if asked && req.Liquid != identify.Water && len(a.In.Wrong) == 0 && a.Number("density") == nil && a.Number("strength") == nil {
		a.In.Refuse("density", d.Say.Line("page.how_dense"), d.Say.Line("page.how_dense_help"))
	}
	if !asked {
		req.Liquid = identify.Water // what everybody has
	}
	var mix identification.LiquidMix
	if len(a.In.Wrong) == 0 {
		if _, err := identify.FindLiquid(string(req.Liquid)); err != nil {
			say, hint := forms.Said(d.Say, err)
			a.In.Refuse("liquid", say, hint)
		} else if mix, err = identification.Liquid(req); err != nil && (desk.WantsJSON(r) || !a.Refused(err)) {
			s.FailWith(w, r, err)
			return
		}
	}
	if desk.WantsJSON(r) {
		if !s.Unreadable(w, r, a) {
			site.WriteJSON(w, http.StatusOK, d.Say.Document(mix.Document))
		}
		return
	}
	v, status := viewLiquid(d.Say, mix), http.StatusOK
	if len(a.In.Wrong) > 0 {
		v.Answer.Answer, status = d.Say.Line("page.cannot_mix"), http.StatusUnprocessableEntity
	}
	v.Back = &address.Link{To: address.Local(r.URL.Query().Get("back"), "/identify"), Say: d.Say.Line("page.piece")}
	v.Ask = forms.AskedForm(r, sh, a)
	s.Render(w, r, status, "liquid", site.View{Title: d.Say.Line("go.mix"), Place: "materials", Crumb: v.Back, Body: v})
}

func viewLiquid(p *say.Printer, m identification.LiquidMix) liquidView {
	if len(m.Figures) == 0 {
		return liquidView{}
	}
	v := liquidView{Answer: figures.Laid(p, m.Document), Line: p.Number(quantity.Density.Show(m.Density))}
	v.Answer.Leading, v.Answer.Reasons = nil, nil // drawn
	chance := map[string]figure.Figure{}
	axis := figures.Scale{From: m.Density, To: m.Density}
	for _, f := range m.Floats {
		chance[f.Name] = f
	}
	for _, f := range m.Spread {
		axis.From, axis.To = min(axis.From, f.Low), max(axis.To, f.High)
	}
	for _, f := range m.Spread {
		row := floatRow{View: figures.Of(p, f), Floats: p.Fact(identification.Percent("", chance[f.Name].Value))}
		row.Bar = figures.RangeBar(f, axis)
		row.Bar.HasLimit, row.Bar.LimitAt = true, axis.At(m.Density)
		if f.Value < m.Density {
			v.Top = append(v.Top, row)
		} else {
			v.Bottom = append(v.Bottom, row)
		}
	}
	return v
}
