package figures

import (
	"strings"

	"hopperful/answer"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/internal/web/address"
	"hopperful/internal/web/charts"
)

// Document is an answer as every page shows it; parts/document.html draws it in
// three levels of loudness: the answer and the steps with their figures; what
// could spoil it, the picture and the limits; and, folded, everything else.
type Document struct {
	Answer   string
	Mark     *Mark
	Remedies []Step // of the answer itself
	Steps    []Step
	Spoilers []Finding
	Cautions []Finding
	Figures  []View
	Limits   []boundView
	Leading  []say.Table // tables that are the answer
	Tables   []say.Table
	First    *charts.View
	Others   []charts.View
	Reasons  []sectionView
}

// Step is one thing to do, with the page it is done on.
type Step struct {
	Say, Why, Takes string
	To              *address.Link
}

// Finding is one thing found, with what would change it.
type Finding struct {
	Say      string
	Grave    bool // shown before anyone asks for more
	Remedies []Step
}

// boundView is a figure with its limit.
type boundView struct {
	Figure View
	Binds  bool
	Relax  string
}

// sectionView is a part of the reasons, folded.
type sectionView struct {
	Key     string
	Title   string
	Notes   []string
	Figures []View
	Tables  []say.Table
}

// Laid lays an answer out in the words of p.
func Laid(p *say.Printer, d answer.Document) Document {
	t := p.Document(d)
	v := Document{Answer: Ended(t.Answer), Remedies: Findings(p, []say.Finding{t.Head})[0].Remedies, Spoilers: Findings(p, t.Spoilers), Cautions: Findings(p, t.Cautions), Figures: All(p, t.Figures)}
	if t.Verdict != "" {
		m := Marked(p, t.Verdict)
		v.Mark = &m
	}
	for _, a := range t.Steps {
		v.Steps = append(v.Steps, viewStep(p, a))
	}
	for _, b := range t.Limits {
		x := boundView{Figure: Of(p, b.Figure), Binds: b.Binds}
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
		x := sectionView{Key: s.Key, Title: s.Title, Figures: All(p, s.Figures), Tables: s.Tables}
		for _, n := range s.Notes {
			x.Notes = append(x.Notes, n.Say)
		}
		v.Reasons = append(v.Reasons, x)
	}
	return v
}

func viewStep(p *say.Printer, a say.Action) Step {
	v := Step{Say: Ended(a.Say), To: address.OfStep(p, a.Saying)}
	if a.Why != nil {
		v.Why = Ended(a.Why.Say)
	}
	if a.Takes != nil {
		v.Takes = p.Number(a.Takes.Shown())
	}
	return v
}

// Findings lays findings out with what would change them.
func Findings(p *say.Printer, all []say.Finding) []Finding {
	var vs []Finding
	for _, f := range all {
		v := Finding{Say: Ended(f.Say), Grave: f.Weight >= 1}
		for _, r := range f.Remedies {
			v.Remedies = append(v.Remedies, Step{Say: Ended(r.Say), To: address.OfStep(p, r.Saying)})
		}
		vs = append(vs, v)
	}
	return vs
}

// All shows figures that are worded already.
func All(p *say.Printer, all []figure.Figure) []View {
	var vs []View
	for _, f := range all {
		vs = append(vs, Of(p, f))
	}
	return vs
}

// Ended ends a sentence with its full stop.
func Ended(sentence string) string {
	if sentence == "" || strings.HasSuffix(sentence, ".") || strings.HasSuffix(sentence, "?") {
		return sentence
	}
	return sentence + "."
}
