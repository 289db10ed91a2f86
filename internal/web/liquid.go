package web

import (
	"net/http"

	"hopperful/figure"
	"hopperful/plan/piece"
	"hopperful/polymer/identify"
	"hopperful/quantity"
)

// liquidView is the page that says how to mix a liquid and what floats in it.
type liquidView struct {
	piece.LiquidMix
	Say, More string
	Numbers   []figView
	Top       []floatRow // what floats, the lightest first
	Bottom    []floatRow // what sinks
	Line      string     // the liquid's density in words
	Back      *link
	Ask       formView
}

// floatRow is a plastic on the axis of densities.
type floatRow struct {
	figView
	Floats string // how many of 100 chips
}

// liquidSheet asks for a liquid, by its density or its strength.
func liquidSheet() sheet {
	return sheet{Submit: "How to mix it", Groups: []group{{Fields: []field{
		{Path: "liquid", Label: "The liquid", As: asSelect, Choices: liquidOptions, First: string(identify.Brine)},
		amount("density", "The density wanted", quantity.Density, "g/cm³", ""),
		amount("strength", "Or its strength by mass", quantity.Share, "%", "What is dissolved or mixed in, of the whole."),
		amount("temperature", "The temperature it is used at", quantity.Temperature, "°C", "Empty takes 20 °C."),
		{Path: "back", As: asHidden},
	}}}}
}

func (s *server) showLiquid(w http.ResponseWriter, r *http.Request) {
	sh := liquidSheet()
	a := readQuery(r.URL.Query(), sh)
	req := piece.LiquidRequest{Liquid: identify.Liquid(a.words["liquid"]), Density: a.numbers["density"], Strength: a.numbers["strength"], Temperature: a.numbers["temperature"]}
	asked := req.Liquid != ""
	if asked && req.Liquid != identify.Water && len(a.in.Wrong) == 0 && a.number("density") == nil && a.number("strength") == nil {
		a.in.refuse("density", "Say how dense it should be, or how strong.", "Between two plastics: a density between theirs.")
	}
	if !asked {
		req.Liquid = identify.Water // what everybody has
	}
	var mix piece.LiquidMix
	if len(a.in.Wrong) == 0 {
		if _, err := identify.FindLiquid(string(req.Liquid)); err != nil {
			say, hint := sentence(err)
			a.in.refuse("liquid", say, hint)
		} else if mix, err = piece.Liquid(req); err != nil && (wantsJSON(r) || !a.refused(err)) {
			s.failWith(w, r, err)
			return
		}
	}
	if wantsJSON(r) {
		if !s.unreadable(w, r, a) {
			writeJSON(w, http.StatusOK, mix)
		}
		return
	}
	v, status := viewLiquid(mix), http.StatusOK
	if len(a.in.Wrong) > 0 {
		v.Say, status = "It cannot be mixed like that.", http.StatusUnprocessableEntity
	}
	v.Back = &link{localPath(r.URL.Query().Get("back"), "/identify"), "What is this piece?"}
	v.Ask = askForm(r, sh, a)
	s.render(w, r, status, "liquid", view{Title: "Mix a liquid", Place: "materials", Crumb: v.Back, Body: v})
}

func viewLiquid(m piece.LiquidMix) liquidView {
	v := liquidView{LiquidMix: m, Numbers: viewFigures(m.Figures)}
	v.Say, v.More = firstSentence(m.Answer)
	if len(m.Figures) == 0 {
		return v
	}
	rho := m.Figures[0]
	v.Line = piece.LiquidWords(rho.Value)
	chance := map[string]figure.Figure{}
	axis := scale{rho.Value, rho.Value}
	for _, f := range m.Floats {
		chance[f.Name] = f
	}
	for _, f := range m.Spread {
		axis.from, axis.to = min(axis.from, f.Low), max(axis.to, f.High)
	}
	for _, f := range m.Spread {
		row := floatRow{figView: viewFigure(f), Floats: piece.Percent(chance[f.Name].Value)}
		row.Bar = rangeBar(f, axis)
		row.Bar.HasLimit, row.Bar.LimitAt = true, axis.at(rho.Value)
		if f.Value < rho.Value {
			v.Top = append(v.Top, row)
		} else {
			v.Bottom = append(v.Bottom, row)
		}
	}
	return v
}
