package answer

import (
	"hopperful/fact"
	"hopperful/shop"
)

// Aside is a lot an answer does not take, or not before something is done.
type Aside struct {
	Lot    shop.LotID
	Name   string
	Why    fact.Saying
	Remedy fact.Saying // may be empty
	Lacks  Lack        // what written down would settle it; empty where nothing would
}

// Lack is what nobody has written down of a lot.
type Lack string

// What may be lacking.
const (
	LacksColour Lack = "colour"
	LacksFlow   Lack = "flow"
	LacksSieve  Lack = "sieve"
	LacksMagnet Lack = "magnet"
	LacksDrying Lack = "dry"
	LacksSort   Lack = "sort"
	LacksGrind  Lack = "charge"
)

// Limit is one bound of an optimisation by its key, which is not always that of the
// figure held against it.
type Limit struct {
	Key string
	Bound
}

// Holds is the share of the draws that keep it.
func (l Limit) Holds() float64 { return l.Figure.Limit.Holds }

// Bounds are limits as an answer shows them, each under its own name.
func Bounds(limits []Limit) []Bound {
	var all []Bound
	for _, l := range limits {
		l.Figure.Name = l.Figure.Limit.Name
		all = append(all, l.Bound)
	}
	return all
}

// Block says what stands in the way of an answer and what would come nearest.
type Block struct {
	Limit   fact.Saying // the limit that cannot be kept
	Why     fact.Saying
	Nearest fact.Saying // may be empty
}

// Left is the table of lots an answer leaves aside; false where there is none.
func Left(key string, aside []Aside) (Table, bool) {
	t := Table{Key: key, Columns: []Column{{Key: "lot"}, {Key: "why"}, {Key: "remedy"}}}
	for _, x := range aside {
		t.Rows = append(t.Rows, []fact.Fact{fact.Lot("", string(x.Lot), x.Name), fact.Parts("", x.Why), fact.Parts("", x.Remedy)})
	}
	return t, len(t.Rows) > 0
}

// MostSpoilers is how many worries a person can act on.
const MostSpoilers = 3

// OnlyPlastic says which plastic was taken where nobody said.
func OnlyPlastic(plastic string) Finding {
	return Found(fact.Say("answer.only_plastic", fact.Name("plastic", plastic)), fact.Say("answer.keep_plastic"))
}
