package reckon

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/quantity"
)

// fold puts what was asked with, and the colours, where every answer has them.
func (r *reckoning) fold() {
	out := &r.out
	if len(out.Swatches) > 0 {
		t := answer.Table{Key: "reckon_colours", Leads: true, Columns: []answer.Column{{Key: "reckon_colour"}, {Key: "reckon_code"}, {Key: "reckon_looks"}, {Key: "share", Numbers: true}, {Key: "reckon_lab", Numbers: true}}}
		for _, s := range out.Swatches {
			share := fact.Parts("")
			if s.Share > 0 {
				share = fact.About("", quantity.Share, s.Share)
			}
			t.Rows = append(t.Rows, []fact.Fact{fact.Parts("", s.Name), fact.Name("", s.RGB), fact.Word("", s.Shade()), share, fact.Parts("", s.Numbers())})
		}
		out.Tables = append(out.Tables, t)
	}
	with := answer.Section{Key: "reckoned_with", Figures: out.Inputs, Notes: []fact.Saying{fact.Say("reckon.model", fact.Name("page", "docs/models/"+r.topic.Model+".md"))}}
	for _, in := range r.topic.Inputs {
		text, ok := out.Words[in.Key]
		if !ok {
			continue
		}
		is := fact.Name("word", text)
		if in.Choices != nil {
			is = fact.Word("word", Choice(text))
		}
		with.Notes = append(with.Notes, fact.Say("reckon.word", fact.Word("name", in.Name), is))
	}
	out.Reasons = []answer.Section{with}
}

func round(v float64) int {
	if v < 0 {
		return -round(-v)
	}
	return int(v + 0.5)
}
