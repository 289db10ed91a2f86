package books

import (
	"math"
	"slices"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

// account is a balance of one thing: what came in, what went out.
type account struct {
	t       answer.Table
	in, out float64
}

func newAccount() *account {
	return &account{t: answer.Table{Key: "books_account", Leads: true, Columns: []answer.Column{{Key: "what"}, {Key: "grams_in", Numbers: true}, {Key: "grams_out", Numbers: true}}}}
}

func (a *account) came(what fact.Fact, kg float64) {
	if math.Abs(kg) >= 5e-7 {
		a.in += kg
		a.t.Rows = append(a.t.Rows, []fact.Fact{what, fact.Measured("in", quantity.Mass, kg), fact.Name("out", "")})
	}
}

func (a *account) went(what fact.Fact, kg float64) {
	if math.Abs(kg) >= 5e-7 {
		a.out += kg
		a.t.Rows = append(a.t.Rows, []fact.Fact{what, fact.Name("in", ""), fact.Measured("out", quantity.Mass, kg)})
	}
}

// closed adds the sums and says whether they meet.
func (a *account) closed() answer.Table {
	a.t.Rows = append(a.t.Rows, []fact.Fact{fact.Word("what", "books.sum"), fact.Measured("in", quantity.Mass, a.in), fact.Measured("out", quantity.Mass, a.out)})
	if d := a.in - a.out; math.Abs(d) > 1e-6 {
		a.t.Notes = append(a.t.Notes, fact.Say("books.does_not_close", fact.Measured("rest", quantity.Mass, d)))
	} else {
		a.t.Notes = append(a.t.Notes, fact.Say("books.closes"))
	}
	return a.t
}

// OfLot is where the grams of a lot came from and went.
func OfLot(s *shop.State, id shop.LotID) (answer.Document, error) {
	l, ok := s.Lot(id)
	if !ok {
		return answer.Document{}, shop.Refuse(shop.NotFound, "lot", fact.Say("books.no_lot", fact.Name("lot", string(id))), fact.Say("books.list_lots"))
	}
	a := newAccount()
	taken := l.In
	for _, e := range byLot(l.Parents) {
		taken -= e.Mass
		if p, ok := s.Lot(e.Lot); ok {
			a.came(answer.Lot("what", p), e.Mass)
		}
	}
	a.came(fact.Word("what", "books.from_outside"), taken)
	for _, e := range byLot(l.Children) {
		if c, ok := s.Lot(e.Lot); ok {
			a.went(answer.Lot("what", c), e.Mass)
		}
	}
	losses := map[string]float64{}
	for x := range s.Losses.Of(id) {
		losses[x.Name] += x.Mass
	}
	for _, name := range sortedKeys(losses) {
		a.went(lossWord(name), losses[name])
	}
	a.went(fact.Word("what", "books.on_hand"), l.Mass)
	a.went(fact.Word("what", "books.in_mills"), held(s, l))
	return answer.Document{Head: answer.Found(fact.Say("books.of_lot", answer.Lot("lot", l), fact.About("in", quantity.Mass, a.in), fact.About("left", quantity.Mass, l.Mass))), Tables: []answer.Table{a.closed()}}, nil
}

// byLot adds what went the same way to one line, in the order the lots first come: a lot
// that was ground in twelve charges came from it once.
func byLot(moved []shop.Edge) []shop.Edge {
	var lots []shop.Edge
	for _, e := range moved {
		i := slices.IndexFunc(lots, func(x shop.Edge) bool { return x.Lot == e.Lot })
		if i < 0 {
			i, lots = len(lots), append(lots, shop.Edge{Lot: e.Lot})
		}
		lots[i].Mass += e.Mass
	}
	return lots
}

// held is what of a lot's scrap is on its way through a mill: put in and not come out
// or lost yet.
func held(s *shop.State, l *shop.Lot) float64 {
	inside := l.In - l.Mass
	for _, e := range l.Children {
		inside -= e.Mass
	}
	for x := range s.Losses.Of(l.ID) {
		inside -= x.Mass
	}
	holds := 0.0 // no more than the mills have in them
	for _, m := range s.Mills {
		holds += m.Held
	}
	return math.Max(0, math.Min(inside, holds))
}

// OfCampaign is where the grams of a campaign came from and went.
func OfCampaign(s *shop.State, id shop.RecordID) (answer.Document, error) {
	c, ok := s.Campaign(id)
	if !ok {
		return answer.Document{}, shop.Refuse(shop.NotFound, "campaign", fact.Say("books.no_campaign", fact.Count("record", int(id))), fact.Say("books.list_campaigns"))
	}
	a := newAccount()
	mine := map[shop.RecordID]bool{}
	losses := map[string]float64{}
	from := map[shop.LotID]float64{}
	var order []shop.LotID
	for _, r := range c.Runs {
		mine[r] = true
		if rec, ok := s.Record(r); ok {
			if b, ground := rec.Body.(*shop.Ground); ground {
				if from[b.From] == 0 {
					order = append(order, b.From)
				}
				from[b.From] += b.Charge
			}
		}
	}
	for _, id := range order {
		if l, ok := s.Lot(id); ok {
			a.came(answer.Lot("what", l), from[id])
		}
	}
	if len(c.Runs) > 0 {
		for x := range s.Losses.Between(slices.Min(c.Runs), slices.Max(c.Runs)) {
			if mine[x.Record] {
				losses[x.Name] += x.Mass
			}
		}
	}
	if l, ok := s.Lot(c.Into); ok {
		a.went(answer.Lot("what", l), c.Out)
	}
	for _, name := range sortedKeys(losses) {
		a.went(lossWord(name), losses[name])
	}
	a.went(fact.Word("what", "books.in_mills"), a.in-a.out)
	return answer.Document{Head: answer.Found(fact.Say("books.of_campaign", fact.Count("record", int(id)), fact.About("in", quantity.Mass, c.In), fact.About("out", quantity.Mass, c.Out))), Tables: []answer.Table{a.closed()}}, nil
}
