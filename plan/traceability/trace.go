package traceability

import (
	"math"
	"strconv"
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

// Tracing is the family of a lot in both directions, with the mass on every
// edge. In = On hand + what To holds + Lost + InMills, within rounding.
type Tracing struct {
	answer.Document
	Lot     Relative
	In      float64       // everything that ever came into it
	Outside float64       // of it, from outside the shop
	OnHand  float64       // left of it
	Lost    float64       // dust, waste, purge, water …; below 0 where a recount found more
	InMills float64       // ground and not weighed yet, or left in a mill
	Went    float64       // into other lots
	From    []Branch      // the lots it came from
	To      []Branch      // the lots it went to
	Origins []TraceOrigin // which lots from outside it consists of

	// What a bound left folded right here; nothing of it in a whole family.
	FromRest, ToRest Rest
}

// Relative is a lot in a family tree.
type Relative struct {
	Lot     shop.LotID
	Class   shop.Class
	Name    string
	Polymer string
	Colour  string
	RGB     string
	OnHand  float64
}

// Branch is an edge of the tree and what lies beyond it.
type Branch struct {
	Relative
	Mass     float64         // that went along this edge
	Share    float64         // up: of the lot traced, by this way; down: of this lot that is of the one traced, by this way
	Records  []shop.RecordID // that say so
	Outside  float64         // what came into this lot from outside the shop
	Again    bool            // this lot is unfolded at another place of the tree
	Branches []Branch
	Rest     Rest // of its own edges, what a bound left folded
}

// TraceOrigin is a lot from outside and its share of the lot traced.
type TraceOrigin struct {
	Relative
	Share float64
}

// Trace gives the family tree of a lot: up to what was taken in from outside,
// down to the prints. Each lot is unfolded once in each direction.
func Trace(s *shop.State, id shop.LotID) (Tracing, error) { return TraceWithin(s, id, Within{}) }

// TraceWithin is [Trace] unfolded within bounds; what stays folded is summed in
// the rests.
func TraceWithin(s *shop.State, id shop.LotID, in Within) (Tracing, error) {
	lot, ok := s.Lot(id)
	if !ok {
		return Tracing{}, shop.NoLot("lot", id)
	}
	t := Tracing{Lot: relative(lot), In: lot.In, Outside: outsideOf(lot), OnHand: lot.Mass}
	for l := range s.Losses.Of(id) {
		t.Lost += l.Mass
	}
	// Added up along the records and not along what is unfolded: in another order
	// the last bit differs, and at half a gram with it the digit shown.
	for _, e := range lot.Children {
		t.Went += e.Mass
	}
	t.From, t.FromRest = unfold(s, lot, true, in)
	t.To, t.ToRest = unfold(s, lot, false, in)
	for _, e := range s.Composition(id) {
		t.Origins = append(t.Origins, TraceOrigin{Relative: relative(s.Lots.At(e.Lot)), Share: e.Mass})
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

// answer says where the lot came from and to which lots it went.
func (t *Tracing) answer(went []shop.LotID) {
	var from []fact.Saying
	for _, o := range t.Origins {
		if o.Lot != t.Lot.Lot && len(from) < 3 {
			from = append(from, fact.Say("family.share_from", fact.About("share", quantity.Share, o.Share), fact.Lot("lot", string(o.Lot), "")))
		}
	}
	came := fact.Say("family.from_outside")
	if n := len(t.Origins); len(from) > 0 {
		came = fact.Say("family.consists", fact.Parts("of", from...))
		if n > 3 {
			came = fact.Say("family.consists_of_many", fact.Count("n", n), fact.Parts("of", from...))
		}
	}
	gone := fact.Say("family.went_nowhere")
	if len(went) > 0 {
		var to []fact.Saying
		for _, id := range went {
			to = append(to, fact.Verbatim(string(id)))
		}
		if n := len(to) - 3; n > 1 {
			to = append(to[:3], fact.Say("family.more", fact.Count("n", n)))
		}
		gone = fact.Say("family.went", fact.Measured("mass", quantity.Mass, t.Went), fact.Parts("to", to...))
	}
	t.Head = answer.Found(fact.Say("family.answer", fact.Lot("lot", string(t.Lot.Lot), ""), fact.Measured("has", quantity.Mass, t.OnHand), fact.Measured("in", quantity.Mass, t.In),
		fact.Parts("came", came), fact.Parts("gone", gone)))
	t.tables()
}

// tables are the family as two lists, each lot with how far away it is, and what
// became of the rest.
func (t *Tracing) tables() {
	columns := []answer.Column{{Key: "level", Numbers: true}, {Key: "lot"}, {Key: "kind"}, {Key: "mass", Numbers: true}, {Key: "share", Numbers: true}, {Key: "records"}}
	from := answer.Table{Key: "came_from", Leads: true, Columns: columns, Rows: branchRows(t.From, 1)}
	if t.Outside > 0 {
		from.Notes = append(from.Notes, fact.Say("family.outside", fact.Measured("mass", quantity.Mass, t.Outside)))
	}
	to := answer.Table{Key: "went_to", Leads: true, Columns: columns, Rows: branchRows(t.To, 1)}
	to.Notes = append(to.Notes, fact.Say("family.on_hand", fact.Measured("mass", quantity.Mass, t.OnHand)))
	switch {
	case t.Lost > 0:
		to.Notes = append(to.Notes, fact.Say("family.lost", fact.Measured("mass", quantity.Mass, t.Lost)))
	case t.Lost < 0:
		to.Notes = append(to.Notes, fact.Say("family.found", fact.Measured("mass", quantity.Mass, -t.Lost)))
	}
	if t.InMills > 0 {
		to.Notes = append(to.Notes, fact.Say("family.in_mills", fact.Measured("mass", quantity.Mass, t.InMills)))
	}
	origins := answer.Table{Key: "origins", Columns: []answer.Column{{Key: "lot"}, {Key: "kind"}, {Key: "share", Numbers: true}}}
	for _, o := range t.Origins {
		origins.Rows = append(origins.Rows, []fact.Fact{fact.Name("lot", string(o.Lot)), fact.Parts("kind", o.kind()), fact.About("share", quantity.Share, o.Share)})
	}
	t.Tables = append(t.Tables, from, to, origins)
}

// branchRows are the lots of a tree, the nearest first and each followed by what
// lies beyond it.
func branchRows(all []Branch, level int) [][]fact.Fact {
	var rows [][]fact.Fact
	for _, b := range all {
		var records []string
		for _, id := range b.Records {
			records = append(records, strconv.FormatInt(int64(id), 10))
		}
		rows = append(rows, []fact.Fact{fact.Set("level", quantity.Count, float64(level)), fact.Name("lot", string(b.Lot)), fact.Parts("kind", b.kind()),
			fact.Measured("mass", quantity.Mass, b.Mass), fact.About("share", quantity.Share, b.Share), fact.Name("records", strings.Join(records, ", "))})
		rows = append(rows, branchRows(b.Branches, level+1)...)
	}
	return rows
}

// kind is what a lot is: its class, its plastic and colour, and its name.
func (r Relative) kind() fact.Saying {
	plastic, colour, name := fact.Name("polymer", r.Polymer), fact.Name("colour", r.Colour), fact.Name("name", r.Name)
	switch r.Class {
	case shop.Scrap:
		return fact.Say("family.scrap", plastic, colour, name)
	case shop.Regrind:
		return fact.Say("family.regrind", plastic, colour, name)
	case shop.Virgin:
		return fact.Say("family.virgin", plastic, colour, name)
	case shop.Blend:
		return fact.Say("family.blend", plastic, colour, name)
	}
	return fact.Say("family.print", plastic, colour, name)
}
