package prints

import (
	"net/http"
	"net/url"

	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/internal/web/sheets"
	"hopperful/internal/web/site"
	"hopperful/shop"
)

// The first steps lead a newcomer from an empty shop to a first plan. Each is
// an ordinary sheet; "don't know" is a field left empty.

// stage is one of the first steps.
type stage struct {
	Key, Word string
	sheet     func(*desk.Desk) forms.Sheet
	done      func(*shop.State) bool
}

var stages = []stage{
	{"mill", "form.your_mill", sheets.Mill, func(s *shop.State) bool { return len(s.Mills) > 0 }},
	{"scale", "form.your_scale", sheets.Scale, func(s *shop.State) bool { return len(s.Scales) > 0 }},
	{"scrap", "form.your_scrap", sheets.TakeIn, func(s *shop.State) bool { return len(s.Order) > 0 }},
	{"need", "form.your_print", nil, func(s *shop.State) bool { return len(s.Needs) > 0 }},
}

func stagesAt(key string) []site.StageView {
	var views []site.StageView
	past := true
	for _, st := range stages {
		current := st.Key == key
		if current {
			past = false
		}
		views = append(views, site.StageView{Word: st.Word, Past: past, Current: current})
	}
	return views
}

// nextStage is the address of the first step not done, or of the page Now.
func nextStage(st *shop.State) string {
	for _, g := range stages {
		if !g.done(st) {
			return "/start/" + g.Key
		}
	}
	return "/"
}

// ShowStart goes to the first step that is left.
func ShowStart(s *site.Site, w http.ResponseWriter, r *http.Request) {
	http.Redirect(w, r, nextStage(s.Store.State()), http.StatusSeeOther)
}

// ShowStage is one of the first steps.
func ShowStage(s *site.Site, w http.ResponseWriter, r *http.Request) {
	d := s.Desk(r)
	switch g, ok := stageAt(r); {
	case !ok:
		s.ShowMissing(w, r)
	case g.sheet == nil:
		drawNeeds(s, w, r, d, http.StatusOK, forms.NewInput(d.Say, url.Values{}))
	default:
		drawStage(s, w, r, d, http.StatusOK, g, forms.NewInput(d.Say, url.Values{}))
	}
}

func stageAt(r *http.Request) (stage, bool) {
	for _, g := range stages {
		if g.Key == r.PathValue("stage") {
			return g, true
		}
	}
	return stage{}, false
}

func drawStage(s *site.Site, w http.ResponseWriter, r *http.Request, d *desk.Desk, status int, g stage, in *forms.Input) {
	sh := startSheet(g, d)
	s.Render(w, r, status, "sheet", site.View{Title: sh.Title, Bare: true,
		Body: site.SheetView{Form: forms.Laid(sh, in, r.URL.Path, nil), Stages: stagesAt(g.Key)}})
}

// startSheet is a step's sheet, headed for a newcomer and without the questions
// when and who.
func startSheet(g stage, d *desk.Desk) forms.Sheet {
	sh := g.sheet(d)
	sh.Title, sh.Submit, sh.Timed = g.Word, d.Say.Line("form.go_on"), false
	if g.Key == "scrap" {
		sh.Intro = d.Say.Line("form.first_scrap_intro")
	}
	return sh
}

// PostStage writes what a first step asked.
func PostStage(s *site.Site, w http.ResponseWriter, r *http.Request) {
	g, ok := stageAt(r)
	if !ok {
		s.ShowMissing(w, r)
		return
	}
	if g.sheet == nil {
		PostNeed(s, w, r)
		return
	}
	if !forms.ReadForm(w, r) {
		s.Fail(w, r, site.TooLarge)
		return
	}
	d := s.Desk(r)
	in := forms.NewInput(d.Say, r.PostForm)
	_, err := s.Keep(r, d, startSheet(g, d), in, nil, 0)
	switch {
	case err != nil:
		s.FailWith(w, r, err)
	case len(in.Wrong) > 0:
		drawStage(s, w, r, d, http.StatusUnprocessableEntity, g, in)
	default:
		http.Redirect(w, r, nextStage(s.Store.State()), http.StatusSeeOther)
	}
}
