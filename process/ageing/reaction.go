package ageing

// How much of the water reacts, by plastic.

import (
	_ "embed"
	"fmt"
	"strings"
	"sync"

	"hopperful/source/rows"
)

// Reaction is the share of the water that cuts a chain before the melt leaves
// the nozzle.
type Reaction struct {
	Polymer string  // as in package polymer
	Share   float64 // [–]
	Low     float64 // a tenth lies below [–]
	High    float64 // a tenth lies above [–]
	Source  string  // key of package source, or one of its words
	Place   string
	Mark    string // computed, from memory or judgement
}

//go:embed extents.csv
var extentsText string

var reactions = sync.OnceValues(func() ([]Reaction, error) { return readReactions(extentsText) })

func readReactions(text string) ([]Reaction, error) {
	var all []Reaction
	err := rows.Each("extents.csv", "polymer,extent,low,high,source,place,mark", strings.NewReader(text), func(f []string) error {
		v, err := numbers(f[1], f[2], f[3])
		if err != nil {
			return err
		}
		if v[2] > 1 {
			return fmt.Errorf("%g of the water cannot react", v[2])
		}
		all = append(all, Reaction{f[0], v[0], v[1], v[2], f[4], f[5], f[6]})
		return ordered(v[0], v[1], v[2], f[4], f[6])
	})
	return all, err
}

// Reacts returns how much of the water reacts in a plastic; where nothing is
// known of it, ExtentMedian with its range.
func Reacts(polymer string) Reaction {
	all, _ := reactions() // embedded; a test holds that it reads
	for _, r := range all {
		if r.Polymer == polymer {
			return r
		}
	}
	return Reaction{Polymer: polymer, Share: ExtentMedian, Low: ExtentLow, High: ExtentHigh, Source: judged, Mark: judged}
}
