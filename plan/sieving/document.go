package sieving

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/sieve"
	"hopperful/quantity"
)

// acted are the figures a person acts on, in this order.
var acted = []string{"d50", "d10", "d90", "fines", "oversize"}

// document puts the answer together.
func (f *sifting) document() {
	f.out.Head = answer.Found(f.head())
	f.out.Figures = f.figures(acted...)
	f.tables()
	rest := answer.Section{Key: "sieving", Notes: f.notes, Figures: f.masses}
	for _, g := range f.out.Sizes {
		if !contains(acted, g.Key) {
			rest.Figures = append(rest.Figures, g)
		}
	}
	f.out.Reasons = append(f.out.Reasons, rest)
	f.lawsTold()
	if s := f.out.Screen; s != nil {
		s.Tell(&f.out.Document)
	}
}

// Tell adds what is known of a mill's screen to an answer: an alarm first of what
// could spoil it, else among the reasons.
func (s *ScreenState) Tell(d *answer.Document) {
	if s.Word == LookNow {
		d.Spoilers = append([]answer.Finding{s.Head}, d.Spoilers...)
		d.Steps = append(d.Steps, s.Steps...)
	} else {
		about := answer.Section{Key: "screen", Notes: []fact.Saying{s.Head.Saying}}
		for _, a := range s.Steps {
			about.Notes = append(about.Notes, a.Do)
		}
		d.Reasons = append(d.Reasons, about)
	}
	d.Reasons = append(d.Reasons, s.Reasons...)
}

func contains(all []string, key string) bool {
	for _, k := range all {
		if k == key {
			return true
		}
	}
	return false
}

// head is the most important in one saying.
func (f *sifting) head() fact.Saying {
	one := func(key string) fact.Fact {
		if all := f.figures(key); len(all) > 0 {
			return fact.Figure(key, all[0])
		}
		return fact.Name(key, "")
	}
	photo := fact.Name("photo", "")
	if f.stack.Photo != nil {
		photo = fact.Name("photo", "yes")
	}
	law, how := fact.Name("law", ""), fact.Name("how", "")
	if f.judged.Best.Law != "" {
		law, how = fact.Name("law", string(f.judged.Best.Law)), fact.Parts("how", fitWord(f.judged))
	}
	what := f.stack.Name
	if f.stack.Lot != "" {
		what = string(f.stack.Lot)
	}
	return fact.Say("sieving.answer", fact.About("mass", quantity.Mass, f.a.Recovered), photo, fact.Name("what", what),
		one("d50"), one("fines"), fact.Set("limit", quantity.Length, f.opt.Fines), law, how)
}

// tables are the sieves one by one, and the laws.
func (f *sifting) tables() {
	t := answer.Table{Key: "sieves", Leads: true, Columns: []answer.Column{{Key: "sieve_hole"}, {Key: "kept_back", Numbers: true}, {Key: "share_kept", Numbers: true}, {Key: "passes", Numbers: true}, {Key: "passes_range"}}}
	for _, r := range f.out.Rows {
		row := []fact.Fact{fact.Name("sieve", r.Sieve), fact.Figure("kept", r.Retained), fact.Figure("share", r.Share), fact.Name("passes", ""), fact.Name("range", "")}
		if r.Sieve == "" {
			row[0] = fact.Word("sieve", "sieving.pan")
		}
		if r.Passing != nil {
			row[3], row[4] = fact.Figure("passes", *r.Passing), fact.Parts("range", fact.Say("sieving.range", fact.Figure("of", *r.Passing)))
		}
		t.Rows = append(t.Rows, row)
	}
	f.out.Tables = append(f.out.Tables, t)
}

// lawsTold are the laws that were fitted, and what they mean.
func (f *sifting) lawsTold() {
	if len(f.out.Fits) == 0 {
		return
	}
	t := answer.Table{Key: "laws", Columns: []answer.Column{{Key: "law"}, {Key: "fitted_by"}, {Key: "size", Numbers: true}, {Key: "shape", Numbers: true}, {Key: "misses", Numbers: true}, {Key: "best"}}}
	s := answer.Section{Key: "laws", Notes: f.laws}
	for _, one := range f.out.Fits {
		best := fact.Name("best", "")
		if one.Best {
			best = fact.Word("best", "sieving.nearest")
		}
		t.Rows = append(t.Rows, []fact.Fact{fact.Name("law", string(one.Law)), fact.Parts("by", methodWord(one.Method)), fact.Figure("size", one.Scale), fact.Figure("shape", one.Shape), fact.About("misses", quantity.Share, one.Miss.Value), best})
		if one.Method == sieve.NonLinear {
			s.Figures = append(s.Figures, one.Scale, one.Shape)
		}
	}
	f.out.Tables = append(f.out.Tables, t)
	f.out.Reasons = append(f.out.Reasons, s)
}

// figures finds figures of the answer by their keys.
func (f *sifting) figures(keys ...string) []figure.Figure {
	var found []figure.Figure
	for _, k := range keys {
		for _, g := range f.out.Sizes {
			if g.Key == k {
				found = append(found, g)
			}
		}
	}
	return found
}
