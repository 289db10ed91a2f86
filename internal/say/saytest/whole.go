// Package saytest holds what the tests of both edges share: an answer that uses
// every part of a document, and the texts that each edge has to show of it.
package saytest

import (
	"encoding/json"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/quantity"
)

// Whole is an answer with something in every part.
func Whole() answer.Document {
	number := func(key, name string, value float64) figure.Figure {
		f := figure.Exact(key, name, quantity.Mass, value, figure.Reckoned)
		f.Low, f.High = 0.9*value, 1.2*value
		return f
	}
	held := number("held", "print.bound", 0.11).Held(figure.Limit{Name: "print.value", Value: 0.2, Side: figure.Below, Holds: 0.93})
	takes := figure.Exact("takes", "print.value", quantity.Duration, 200, figure.Assumed)
	table := func(key string, leads bool, mass float64) answer.Table {
		return answer.Table{Key: key, Leads: leads, Columns: []answer.Column{{Key: "lot"}, {Key: "mass", Numbers: true}},
			Rows:  [][]fact.Fact{{fact.Lot("", "S1", "bin"), fact.Set("", quantity.Mass, mass)}},
			Notes: []fact.Saying{fact.Say("next.scale_digit")}}
	}
	return answer.Document{
		Head:    answer.Finding{Saying: fact.Say("next.waits", fact.Count("n", 3)), Remedies: []fact.Saying{fact.Say("do.take_in")}},
		Verdict: answer.Likely,
		Steps:   []answer.Action{{Do: fact.Say("do.plan", fact.Name("need", "hook")), Why: fact.Say("next.need_forms"), Takes: &takes}},
		Spoilers: []answer.Finding{answer.Found(fact.Say("next.holds_metal", fact.Name("metal", "brass")),
			fact.Say("do.cut_metal", fact.Lot("lot", "S2", "")))},
		Cautions: []answer.Finding{answer.Found(fact.Say("next.guess_is_fine"))},
		Figures:  []figure.Figure{number("acted", "print.what", 0.12)},
		Limits:   []answer.Bound{{Figure: held, Binds: true, Relax: fact.Say("next.all_done")}},
		Tables:   []answer.Table{table("sample", true, 0.13), table("folded", false, 0.14)},
		Charts: []answer.Chart{{Key: "sample", Title: "print.charts", Summary: "next.nothing", XName: "print.what", YName: "print.value", XKind: quantity.Mass, YKind: quantity.Mass,
			Curves: []answer.Curve{{Key: "charge", Name: "print.value", X: []float64{0, 1}, Low: []float64{0, 1}, Mid: []float64{0, 1}, High: []float64{0, 1}}}}},
		Reasons: []answer.Section{{Key: "sample", Notes: []fact.Saying{fact.Say("next.mill_sharper")}, Figures: []figure.Figure{number("behind", "print.from", 0.15)}}},
	}
}

// Texts are all sentences and numbers of an answer, as they have to be shown.
func Texts(d say.Document) ([]string, error) {
	text, err := json.Marshal(d)
	if err != nil {
		return nil, err
	}
	var tree any
	if err := json.Unmarshal(text, &tree); err != nil {
		return nil, err
	}
	var all []string
	var walk func(any)
	walk = func(x any) {
		switch x := x.(type) {
		case []any:
			for _, y := range x {
				walk(y)
			}
		case map[string]any:
			for key, y := range x {
				shown, isText := y.(string)
				switch {
				case key == "facts" || key == "charts" || key == "limit": // told apart by words of their own
				case isText && slices.Contains([]string{"say", "shown", "shown_range", "title", "name", "answer"}, key):
					all = append(all, shown)
				default:
					walk(y)
				}
			}
		}
	}
	walk(tree)
	for _, t := range d.Tables {
		all = append(all, slices.Concat(t.Rows...)...)
	}
	for _, c := range d.Charts {
		all = append(all, c.Title, c.Summary)
	}
	return all, nil
}
