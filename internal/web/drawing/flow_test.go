package drawing

import (
	"strings"
	"testing"

	"hopperful/internal/say"
	"hopperful/plan/books"
)

// flowSample are streams of a small shop, one of which comes round again.
func flowSample() []books.Stream {
	return []books.Stream{{From: books.ScrapPlace, To: books.RegrindPlace, Mass: 1}, {From: books.VirginPlace, To: books.BlendPlace, Mass: 0.5},
		{From: books.RegrindPlace, To: books.BlendPlace, Mass: 0.9}, {From: books.RegrindPlace, To: books.LostPlace, Mass: 0.05}, {From: books.BlendPlace, To: books.PrintPlace, Mass: 1.3},
		{From: books.PrintPlace, To: books.ScrapPlace, Mass: 0.2}, {From: books.BlendPlace, To: books.LostPlace}}
}

// TestStreamsAreDrawnAsWideAsTheirMass: a band each, as wide as its mass, what comes
// round again as a loop, what is lost as lost, the same for a desk and for a phone, and
// nothing for nothing.
func TestStreamsAreDrawnAsWideAsTheirMass(t *testing.T) {
	t.Parallel()
	both := strings.SplitAfter(string(Flow(say.For("en"), flowSample())), "</svg>")
	if len(both) != 3 || !strings.Contains(both[0], `"books-flow broad"`) || !strings.Contains(both[1], `"books-flow slim"`) || both[2] != "" {
		t.Fatalf("not one picture for a desk and one for a phone: %q", both)
	}
	for _, text := range both[:2] {
		for part, want := range map[string]int{"<path ": 6, `class="band again"`: 1, `class="band gone"`: 1, `class="place"`: 6, "ZgotmplZ": 0, "NaN": 0,
			`stroke-width="100.00"`: 1, `stroke-width="5.00"`: 1} { // the first column holds 1.5 kg on 150 pixels
			if got := strings.Count(text, part); got != want {
				t.Errorf("%q stands %d times, wanted %d in %s", part, got, want, text)
			}
		}
	}
	if Flow(say.For("en"), nil) != "" {
		t.Error("nothing is drawn")
	}
}
