package figure

import (
	"encoding/json"
	"math"

	"hopperful/source"
)

// wire is a figure as scripts read it; docs/figure.schema.json describes it.
// Fields without omitempty are always there.
type wire struct {
	Key        string       `json:"key"`
	Name       string       `json:"name"`
	Value      float64      `json:"value"`
	Unit       string       `json:"unit"`
	Low        float64      `json:"low"`
	High       float64      `json:"high"`
	Shown      string       `json:"shown"`
	ShownRange string       `json:"shown_range,omitempty"`
	Basis      Basis        `json:"basis"`
	Runs       int          `json:"runs,omitempty"`
	How        string       `json:"how"`
	Source     string       `json:"source"`
	Sources    []source.Ref `json:"sources,omitempty"`
	From       []wire       `json:"from"`
	Records    []int64      `json:"records,omitempty"`
	Limit      *wireLimit   `json:"limit,omitempty"`
	Warnings   []string     `json:"warnings,omitempty"`
}

type wireLimit struct {
	Name  string   `json:"name"`
	Value float64  `json:"value"`
	Side  Side     `json:"side"`
	Holds *float64 `json:"holds,omitempty"` // absent where nothing was drawn
	Shown string   `json:"shown"`
	Basis Basis    `json:"basis,omitempty"` // only a guess or an assumption is said
}

// MarshalJSON writes the figure with its inputs, in SI units beside the shown
// texts. A figure that does not pass [Check] is an error, so no answer ever
// carries a number that is none.
func (f Figure) MarshalJSON() ([]byte, error) {
	if err := Check(f); err != nil {
		return nil, err
	}
	return json.Marshal(f.wire())
}

func (f Figure) wire() wire {
	w := wire{
		Key: f.Key, Name: f.Name, Value: f.Value, Unit: f.Unit(), Low: f.Low, High: f.High,
		Shown: f.Shown(), ShownRange: f.ShownRange(), Basis: f.Standing(), Runs: f.Runs,
		How: f.How, Source: f.Source(), Sources: f.Sources,
		From: make([]wire, 0, len(f.Inputs)), Records: f.Records, Warnings: f.Warnings,
	}
	for _, in := range f.Inputs {
		w.From = append(w.From, in.wire())
	}
	if f.Limit != nil && !f.Limit.Open() { // JSON has no number for a limit nobody knows
		w.Limit = &wireLimit{Name: f.Limit.Name, Value: f.Limit.Value, Side: f.Limit.Side, Shown: f.ShownLimit(), Basis: f.Limit.Basis}
		if holds := f.Limit.Holds; !math.IsNaN(holds) {
			w.Limit.Holds = &holds
		}
	}
	return w
}
