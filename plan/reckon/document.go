package reckon

import (
	"maps"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/quantity"
)

// Document is the answer of a topic as every answer is laid out. What the topic
// itself says is still English, and carried through as it is.
func (r Reckoning) Document() answer.Document {
	d := answer.Document{Head: answer.Found(fact.Verbatim(r.Answer)), Figures: r.Figures, Charts: r.Charts}
	for _, n := range r.Notes {
		d.Spoilers = append(d.Spoilers, answer.Found(fact.Verbatim(n)))
	}
	if len(r.Swatches) > 0 {
		t := answer.Table{Key: "reckon_colours", Leads: true, Columns: []answer.Column{{Key: "reckon_colour"}, {Key: "reckon_code"}, {Key: "reckon_looks"}, {Key: "share", Numbers: true}, {Key: "reckon_lab", Numbers: true}}}
		for _, s := range r.Swatches {
			share := fact.Parts("")
			if s.Share > 0 {
				share = fact.About("", quantity.Share, s.Share)
			}
			lab := fact.Parts("", fact.Say("reckon.lab", fact.Count("l", round(s.Lab[0])), fact.Count("a", round(s.Lab[1])), fact.Count("b", round(s.Lab[2]))))
			t.Rows = append(t.Rows, []fact.Fact{fact.Name("", s.Name), fact.Name("", s.RGB), fact.Name("", s.Word), share, lab})
		}
		d.Tables = append(d.Tables, t)
	}
	with := answer.Section{Key: "reckoned_with", Figures: r.Inputs, Notes: []fact.Saying{fact.Say("reckon.model", fact.Name("page", "docs/models/"+r.Model+".md"))}}
	for _, key := range slices.Sorted(maps.Keys(r.Words)) {
		with.Notes = append(with.Notes, fact.Say("reckon.word", fact.Name("key", key), fact.Name("word", r.Words[key])))
	}
	d.Reasons = []answer.Section{with}
	return d
}

func round(v float64) int {
	if v < 0 {
		return -round(-v)
	}
	return int(v + 0.5)
}
