package drawing

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"

	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/plan/traceability"
	"hopperful/quantity"
)

// agedLot is a lot of three ages, the last of them gathered.
func agedLot() (traceability.LotAge, []traceability.Passes) {
	passes := func(v, low, high float64) figure.Figure {
		return figure.Figure{Key: "passes", Name: "passes", Kind: quantity.Number, Value: v, Low: low, High: high}
	}
	return traceability.LotAge{Lot: "R1", Mean: passes(1.4, 1.1, 1.7), Oldest: passes(3, 2, 4)},
		[]traceability.Passes{{Number: 0, Share: 0.2, Low: 0.2, High: 0.2}, {Number: 1, Share: 0.5, Low: 0.4, High: 0.6}, {Number: 2, OrMore: true, Share: 0.3, Low: 0.2, High: 0.4}}
}

// TestAnAgeIsDrawnWell: the picture is well-formed, has a bar and a share each, a range
// only where there is one, and stays in its frame.
func TestAnAgeIsDrawnWell(t *testing.T) {
	t.Parallel()
	a, rows := agedLot()
	text := string(Age(say.For("en"), a, rows, RGB{10, 20, 30}))
	for dec := xml.NewDecoder(strings.NewReader(text)); ; {
		if _, err := dec.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("%v in %s", err, text)
		}
	}
	for part, want := range map[string]int{`class="bar-of" fill="#0a141e"`: 3, `class="reach"`: 2, `class="rail"`: 2, `class="share"`: 3, ">50 %<": 1, "ZgotmplZ": 0, "NaN": 0} {
		if got := strings.Count(text, part); got != want {
			t.Errorf("%q stands %d times, wanted %d in %s", part, got, want, text)
		}
	}
	if !strings.Contains(text, `y="45.0" width=`) {
		t.Errorf("half of the lot, where at most 60 %% are drawn 138 pixels high, does not reach 115 of 138 pixels: %s", text)
	}
}
