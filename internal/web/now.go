package web

import (
	"net/http"
	"strings"

	"hopperful/plan/next"
	"hopperful/shop"
)

// nowView is the first page: what to do next.
type nowView struct {
	Answer string
	Lead   string
	Act    link
	Also   []adviceView
	Shelf  []lotCard
	Needs  []needRow
	Log    []recordRow
	Fresh  bool // an empty shop, first visit
}

// adviceView is one more thing to do.
type adviceView struct {
	Do, Why string
	To      link
}

// most of each kind the first page shows.
const (
	mostAdvice  = 3
	mostOnShelf = 6
	mostRecent  = 5
)

func (s *server) showNow(w http.ResponseWriter, r *http.Request) {
	d := s.desk(r)
	if len(d.state.History) == 0 {
		s.render(w, r, http.StatusOK, "welcome", view{Title: "Welcome", Bare: true})
		return
	}
	v := nowView{Answer: "Nothing is waiting.", Lead: "Record a charge when you grind one, or say what you print next.", Act: link{"/plan", "Plan a print"}}
	for i, a := range next.Of(d.state) {
		av := adviceView{ended(a.Do), a.Why, link{advicePath(a), adviceWord(a)}}
		if i == 0 {
			v.Answer, v.Lead, v.Act = av.Do, av.Why, av.To
		} else if len(v.Also) < mostAdvice {
			v.Also = append(v.Also, av)
		}
	}
	for _, t := range shelfTitles {
		lots := d.state.Stock(t.class)
		for _, l := range lots[:min(mostOnShelf-len(v.Shelf), len(lots))] {
			v.Shelf = append(v.Shelf, d.card(l))
		}
	}
	for i := len(d.state.Needs) - 1; i >= 0; i-- {
		if n := d.state.Needs[i]; !n.Done {
			v.Needs = append(v.Needs, d.needRow(n))
		}
	}
	for i := len(d.state.Records) - 1; i >= 0 && len(v.Log) < mostRecent; i-- {
		v.Log = append(v.Log, d.logRow(d.state.Records[i]))
	}
	s.render(w, r, http.StatusOK, "now", view{Title: "Now", Place: "now", Body: v})
}

func ended(sentence string) string {
	if strings.HasSuffix(sentence, ".") {
		return sentence
	}
	return sentence + "."
}

// advicePath is the page where an advice is acted upon.
func advicePath(a next.Advice) string {
	switch a.To {
	case next.ToMill:
		if a.Ref != "" { // of a mill that is described, its records are the matter
			return learnPath(a.Ref)
		}
		return "/record/mill?next=/"
	case next.ToScale:
		return "/record/scale?next=/"
	case next.ToTakeIn:
		return "/record/take-in"
	case next.ToPlan:
		return planPath(a.Ref)
	case next.ToBlend:
		return blendPath(a.Ref)
	case next.ToLot:
		return "/stock/" + pathSegment(a.Ref)
	case next.ToFind:
		return piecePath(shop.LotID(a.Ref))
	case next.ToCharge:
		return "/record/charge?mill=" + queryEscape(a.Ref)
	}
	return "/plan"
}

// adviceWord is what the button says.
func adviceWord(a next.Advice) string {
	switch a.To {
	case next.ToMill:
		if a.Ref != "" {
			return "See the evidence"
		}
		return "Describe the mill"
	case next.ToScale:
		return "Describe the scale"
	case next.ToTakeIn:
		return "Take in material"
	case next.ToPlan:
		return "Open the plan"
	case next.ToBlend:
		return "See the recipe"
	case next.ToLot:
		return "Look at " + a.Ref
	case next.ToFind:
		return "What is " + a.Ref + "?"
	case next.ToCharge:
		return "Record a charge"
	}
	return "Say what you print"
}
