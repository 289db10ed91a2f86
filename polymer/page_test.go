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
