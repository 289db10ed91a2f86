package polymer

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// The page says how much of the table rests on what. That must stay true.
func TestThePageCountsTheMarks(t *testing.T) {
	t.Parallel()
	count, lines := map[Mark]int{}, 0
	each(t, func(p Polymer) {
		for _, d := range Properties() {
			for _, v := range p.All(d.Property) {
				count[v.Mark]++
				lines++
			}
		}
	})
	want := fmt.Sprintf("Of %d lines, %d are published, %d computed, %d from undated pages, %d common practice, %d from memory and %d judgement.",
		lines, count[Published], count[Computed], count[Undated], count[Practice], count[Memory], count[Judged])
	page, err := os.ReadFile("../docs/models/polymer.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), want) {
		t.Errorf("docs/models/polymer.md must say: %s", want)
	}
}

// decides are the properties a mistake in which spoils a lot or a print.
var decides = []Property{DryingTemperature, DryingTime, MoistureLimit, Softening, PrintTemperature, MeltCeiling, WaterRoom, WaterSaturated, WaterDiffusivity, BulkChips, PowerN}

// The page says on what the values stand that decide something: the defaults of the
// plastics one may print with, by mark, property by property.
func TestThePageTellsWhatDecides(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	out.WriteString("| property | published | computed | undated page | a guess |\n| --- | --- | --- | --- | --- |\n")
	for _, property := range decides {
		count := map[Mark]int{}
		each(t, func(p Polymer) {
			_, refused := p.Refused()
			if all := p.All(property); len(all) > 0 && !refused && p.Name != Unknown {
				count[all[0].Mark]++
			}
		})
		fmt.Fprintf(&out, "| `%s` | %d | %d | %d | %d |\n", property, count[Published], count[Computed], count[Undated], count[Practice]+count[Memory]+count[Judged])
	}
	page, err := os.ReadFile("../docs/models/polymer.md")
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(page), out.String()) {
		t.Errorf("docs/models/polymer.md must hold:\n%s", out.String())
	}
}
