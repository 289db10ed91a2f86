package web

import (
	"hopperful/answer"
	"hopperful/figure"
	"hopperful/internal/say"
)

// docView is an answer as every page shows it; parts/document.html draws it in
// three levels of loudness: the answer and the steps with their figures; what
// could spoil it, the picture and the limits; and, folded, everything else.
type docView struct {
	Answer   string
	Mark     *mark
	Remedies []stepView // of the answer itself
	Steps    []stepView
	Spoilers []findingView
	Cautions []findingView
	Figures  []figView
	Limits   []boundView
	Leading  []say.Table // tables that are the answer
	Tables   []say.Table
	First    *chartView
	Others   []chartView
	Reasons  []sectionView
}

// stepView is one thing to do, with the page it is done on.
type stepView struct {
	Say, Why, Takes string
	To              *link
}

// findingView is one thing found, with what would change it.
type findingView struct {
	Say      string
	Grave    bool // shown before anyone asks for more
	Remedies []stepView
}

// boundView is a figure with its limit.
type boundView struct {
	Figure figView
	Binds  bool
	Relax  string
}

// sectionView is a part of the reasons, folded.
type sectionView struct {
	Key     string
	Title   string
	Notes   []string
	Figures []figView
	Tables  []say.Table
}

// viewDocument lays an answer out in the words of p.
func viewDocument(p *say.Printer, d answer.Document) docView {
	t := p.Document(d)
	v := docView{Answer: ended(t.Answer), Remedies: viewFindings(p, []say.Finding{t.Head})[0].Remedies, Spoilers: viewFindings(p, t.Spoilers), Cautions: viewFindings(p, t.Cautions), Figures: viewWorded(p, t.Figures)}
	if t.Verdict != "" {
		m := markIn(p, t.Verdict)
		v.Mark = &m
	}
	for _, a := range t.Steps {
		v.Steps = append(v.Steps, viewStep(p, a))
	}
	for _, b := range t.Limits {
		x := boundView{Figure: viewFigureIn(p, b.Figure), Binds: b.Binds}
		if b.Relax != nil {
			x.Relax = b.Relax.Say
		}
		v.Limits = append(v.Limits, x)
	}
	for _, x := range t.Tables {
		if x.Leads {
			v.Leading = append(v.Leading, x)
		} else {
			v.Tables = append(v.Tables, x)
		}
	}
	for _, s := range t.Reasons {
		x := sectionView{Key: s.Key, Title: s.Title, Figures: viewWorded(p, s.Figures), Tables: s.Tables}
		for _, n := range s.Notes {
			x.Notes = append(x.Notes, n.Say)
		}
		v.Reasons = append(v.Reasons, x)
	}
	return v
}

func viewStep(p *say.Printer, a say.Action) stepView {
	v := stepView{Say: ended(a.Say), To: placeOf(p, a.Saying)}
	if a.Why != nil {
		v.Why = ended(a.Why.Say)
	}
	if a.Takes != nil {
		v.Takes = p.Number(a.Takes.Shown())
	}
	return v
}

func viewFindings(p *say.Printer, all []say.Finding) []findingView {
	var vs []findingView
	for _, f := range all {
		v := findingView{Say: ended(f.Say), Grave: f.Weight >= 1}
		for _, r := range f.Remedies {
			v.Remedies = append(v.Remedies, stepView{Say: ended(r.Say), To: placeOf(p, r.Saying)})
		}
		vs = append(vs, v)
	}
	return vs
}

func viewWorded(p *say.Printer, all []figure.Figure) []figView {
	var vs []figView
	for _, f := range all {
		vs = append(vs, viewFigureIn(p, f))
	}
	return vs
}
