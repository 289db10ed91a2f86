package web

import (
	"hopperful/figure"
	"hopperful/plan/sieving"
	"hopperful/shop"
)

// screenView is what the records say of a mill's screen and plate.
type screenView struct {
	sieving.ScreenState
	Now     bool // look at it now
	Torn    []figView
	Metal   []figView
	Service string // where to write down what was found
}

func viewScreen(s *sieving.ScreenState) *screenView {
	if s == nil {
		return nil
	}
	v := &screenView{ScreenState: *s, Now: s.Word == sieving.LookNow, Service: "/record/service?part=" + string(shop.ScreenPart) + "&mill=" + queryEscape(s.Mill)}
	if t := s.Torn; t != nil {
		v.Torn = viewFigures(present([]figure.Figure{t.Coarse, t.Expected, t.Chance}))
		if t.LongChance != nil {
			v.Torn = append(v.Torn, viewFigure(*t.LongChance))
		}
		v.Torn = append(v.Torn, viewFigures(present([]figure.Figure{t.Odds, t.FalseAlarm}))...)
	}
	if m := s.Metal; m != nil {
		all := []figure.Figure{m.Last}
		for _, f := range []*figure.Figure{m.Usual, m.Step, m.Trend} {
			if f != nil {
				all = append(all, *f)
			}
		}
		v.Metal = viewFigures(present(append(all, m.FalseAlarm)))
	}
	return v
}
