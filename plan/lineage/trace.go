package lineage

import (
	"fmt"
	"math"

	"hopperful/answer"
	"hopperful/quantity"
	"hopperful/shop"
)

// Tracing is the family of a lot in both directions, with the mass on every
// edge. In = On hand + what To holds + Lost + InMills, within rounding.
type Tracing struct {
	Answer  string        `json:"answer"` // one sentence
	Lot     Relative      `json:"lot"`
	In      float64       `json:"in_kg"`       // everything that ever came into it
	Outside float64       `json:"outside_kg"`  // of it, from outside the shop
	OnHand  float64       `json:"on_hand_kg"`  // left of it
	Lost    float64       `json:"lost_kg"`     // dust, waste, purge, water …; below 0 where a recount found more
	InMills float64       `json:"in_mills_kg"` // ground and not weighed yet, or left in a mill
	Went    float64       `json:"-"`           // into other lots
	From    []Branch      `json:"from"`        // the lots it came from
	To      []Branch      `json:"to"`          // the lots it went to
	Origins []TraceOrigin `json:"origins"`     // which lots from outside it consists of

	// What a bound left folded right here; nothing of it in a whole family.
	FromRest, ToRest Rest `json:"-"`
}

// Relative is a lot in a family tree.
type Relative struct {
	Lot     shop.LotID `json:"lot"`
	Class   shop.Class `json:"class"`
	Name    string     `json:"name"`
	Polymer string     `json:"polymer"`
	Colour  string     `json:"colour"`
	RGB     string     `json:"rgb,omitempty"`
	OnHand  float64    `json:"on_hand_kg"`
}

// Branch is an edge of the tree and what lies beyond it.
type Branch struct {
	Relative
	Mass     float64         `json:"mass_kg"`    // that went along this edge
	Share    float64         `json:"share"`      // up: of the lot traced, by this way; down: of this lot that is of the one traced, by this way
	Records  []shop.RecordID `json:"records"`    // that say so
	Outside  float64         `json:"outside_kg"` // what came into this lot from outside the shop
	Again    bool            `json:"again"`      // this lot is unfolded at another place of the tree
	Branches []Branch        `json:"branches"`
	Rest     Rest            `json:"-"` // of its own edges, what a bound left folded
}

// TraceOrigin is a lot from outside and its share of the lot traced.
type TraceOrigin struct {
	Relative
	Share float64 `json:"share"`
}

// Trace gives the family tree of a lot: up to what was taken in from outside,
// down to the prints. Each lot is unfolded once in each direction.
func Trace(s *shop.State, id shop.LotID) (Tracing, error) { return TraceWithin(s, id, Within{}) }

// TraceWithin is [Trace] unfolded within bounds; what stays folded is summed in
// the rests.
func TraceWithin(s *shop.State, id shop.LotID, in Within) (Tracing, error) {
	lot, ok := s.Lot(id)
	if !ok {
		return Tracing{}, NoLot(id)
	}
	t := Tracing{Lot: relative(lot), In: lot.In, Outside: outsideOf(lot), OnHand: lot.Mass, Origins: []TraceOrigin{}}
	for _, l := range s.Losses {
		if l.Lot == id {
			t.Lost += l.Mass
		}
	}
	// Added up along the records and not along what is unfolded: in another order
	// the last bit differs, and at half a gram with it the digit shown.
	for _, e := range lot.Children {
		t.Went += e.Mass
	}
	t.From, t.FromRest = unfold(s, lot, true, in)
	t.To, t.ToRest = unfold(s, lot, false, in)
	for _, e := range s.Composition(id) {
		t.Origins = append(t.Origins, TraceOrigin{Relative: relative(s.Lots[e.Lot]), Share: e.Mass})
	}
	t.settle()
	t.answer(nextTo(lot.Children))
	return t, nil
}

// settle books what neither is there nor went anywhere as in the mills.
func (t *Tracing) settle() {
	t.InMills = t.In - t.OnHand - t.Lost - t.Went
	if math.Abs(t.InMills) < 1e-9*math.Max(t.In, 1) {
		t.InMills = 0
	}
}

func relative(l *shop.Lot) Relative {
	return Relative{Lot: l.ID, Class: l.Class, Name: l.Name, Polymer: l.Polymer, Colour: l.Colour, RGB: l.RGB, OnHand: l.Mass}
}

// nextTo are the lots at the other ends of edges, each once.
func nextTo(edges []shop.Edge) []shop.LotID {
	var ids []shop.LotID
	seen := map[shop.LotID]bool{}
	for _, e := range edges {
		if !seen[e.Lot] {
			seen[e.Lot] = true
			ids = append(ids, e.Lot)
		}
	}
	return ids
}

// answer says in a sentence where the lot came from and to which lots it went.
func (t *Tracing) answer(went []shop.LotID) {
	where := make([]string, 0, 3)
	for _, o := range t.Origins {
		if o.Lot != t.Lot.Lot && len(where) < 3 {
			where = append(where, fmt.Sprintf("%s from %s", quantity.Share.Rough(o.Share), o.Lot))
		}
	}
	came := "It came from outside as it is"
	if n := len(t.Origins); len(where) > 0 {
		came = "It consists of " + answer.List(where)
		if n > 3 {
			came = fmt.Sprintf("It consists of %d lots from outside, among them %s", n, answer.List(where))
		}
	}
	gone := "none of it went into another lot"
	if len(went) > 0 {
		to := make([]string, 0, len(went))
		for _, id := range went {
			to = append(to, string(id))
		}
		if len(to) > 4 {
			to = append(to[:3], fmt.Sprintf("%d more", len(to)-3))
		}
		gone = fmt.Sprintf("%s went into %s", quantity.Mass.Show(t.Went), answer.List(to))
	}
	t.Answer = fmt.Sprintf("%s holds %s of the %s that came in. %s; %s.", t.Lot.Lot,
		quantity.Mass.Show(t.OnHand), quantity.Mass.Show(t.In), came, gone)
}
