package family

import (
	"math"
	"strings"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/web/desk"
	"hopperful/internal/web/forms"
	"hopperful/plan/traceability"
	"hopperful/shop"
)

// A family is drawn as boxes with bands between them: what the lot came from
// above, what it went to below. tree.go says which boxes there are, place.go where they
// stand, draw.go draws them, table.go and view.go show them.

// kinKind is what a box of the picture stands for.
type kinKind int

const (
	KinLot     kinKind = iota // a lot itself
	KinMore                   // lots folded away
	kinOutside                // what came from outside the shop
	kinFound                  // what a recount found more
	kinMill                   // ground and not weighed yet, or left in a mill
	kinLost                   // dust, waste, purge, water
)

// Box is a box of the picture and what lies beyond it, seen from the lot
// whose family it is.
type Box struct {
	Kind  kinKind
	Lot   traceability.Relative // of a kinLot; of a kinMore the lot it hangs on
	Again bool                  // unfolded at another place
	Count int                   // lots of a kinMore
	Mass  float64               // along its band [kg]
	Share float64
	Door  float64 // what came into this lot from outside [kg]
	First bool    // nothing but that came into it
	Words string  // what was lost, for a kinLost
	Level int     // how many lots away from the lot
	Next  []*Box

	Records []shop.RecordID // that say what went along its band

	X, Y, W, H float64 // placed by the layout
	Band       kinBand
}

// kinBand is the band of a box: its left ends on the box nearer to the lot, and
// on the box itself. It is as wide as its mass at both.
type kinBand struct {
	NearX, NearY, FarX, FarY, Wide float64
}

// Tree is the family of a lot.
type Tree struct {
	Lot      *Box
	In       float64
	Up, Down []*Box
	High     float64 // of the whole picture
	Wide     float64
	Scale    float64 // width of a kilogram
}

// Grow makes the boxes of a family; losses names what was lost.
func Grow(t *traceability.Tracing, losses []forms.Option) *Tree {
	k := &Tree{Lot: &Box{Lot: t.Lot}, In: t.In, Up: kinBoxes(t.From, t.FromRest, t.Lot, 1, true), Down: kinBoxes(t.To, t.ToRest, t.Lot, 1, false)}
	add := func(list *[]*Box, kind kinKind, mass float64) {
		if mass > 0 {
			*list = append(*list, &Box{Kind: kind, Lot: t.Lot, Mass: mass, Level: 1})
		}
	}
	add(&k.Up, kinOutside, t.Outside)
	add(&k.Up, kinFound, -t.Lost)
	add(&k.Down, kinMill, t.InMills)
	add(&k.Down, kinLost, t.Lost)
	if t.Lost > 0 {
		var names []string
		for _, l := range losses {
			names = append(names, l.Value)
		}
		k.Down[len(k.Down)-1].Words = strings.Join(names, ", ")
	}
	return k
}

// kinBoxes are the boxes of one direction, what stayed folded last.
func kinBoxes(branches []traceability.Branch, rest traceability.Rest, on traceability.Relative, level int, up bool) []*Box {
	var list []*Box
	for _, b := range branches {
		box := &Box{Lot: b.Relative, Again: b.Again, Mass: b.Mass, Share: b.Share, Level: level,
			Records: b.Records, Next: kinBoxes(b.Branches, b.Rest, b.Relative, level+1, up)}
		if up {
			box.Door = b.Outside
			box.First = len(b.Branches)+b.Rest.Lots == 0 && !b.Again
		}
		list = append(list, box)
	}
	if rest.Lots > 0 {
		list = append(list, &Box{Kind: KinMore, Lot: on, Count: rest.Lots, Mass: rest.Mass, Level: level})
	}
	return list
}

// Each visits all boxes but the lot's own, each with the box it hangs on.
func (k *Tree) Each(visit func(box, on *Box, up bool)) {
	var walk func(list []*Box, on *Box, up bool)
	walk = func(list []*Box, on *Box, up bool) {
		for _, b := range list {
			visit(b, on, up)
			walk(b.Next, b, up)
		}
	}
	walk(k.Up, k.Lot, true)
	walk(k.Down, k.Lot, false)
}

// alone reports whether the lot has no kin that a picture could show.
func (k *Tree) alone() bool {
	for _, list := range [][]*Box{k.Up, k.Down} {
		for _, b := range list {
			if b.Kind != kinOutside {
				return false
			}
		}
	}
	return true
}

// sum says that what came in is there, went on or is lost, in one line.
func (k *Tree) sum(p *say.Printer) string {
	in, found := k.In, 0.0
	parts := []string{p.Line("form.on_hand", fact.Weighed("on_hand", k.Lot.Lot.OnHand))}
	went := 0.0
	for _, b := range k.Down {
		if b.Kind == KinLot || b.Kind == KinMore {
			went += b.Mass
		}
	}
	if went > 0 {
		parts = append(parts, p.Line("form.went_into_other_lots", fact.Weighed("went", went)))
	}
	for _, b := range append(k.Up[:len(k.Up):len(k.Up)], k.Down...) {
		switch b.Kind {
		case kinMill:
			parts = append(parts, p.Line("form.in_a_mill", fact.Weighed("mass", b.Mass)))
		case kinLost:
			parts = append(parts, p.Line("form.lost", fact.Weighed("mass", b.Mass)))
		case kinFound:
			found = b.Mass
		}
	}
	came := p.Line("form.came_in", fact.Weighed("in", in))
	if found > 0 {
		came += " " + p.Line("form.found_at_a_recount", fact.Weighed("found", found))
	}
	return came + " = " + strings.Join(parts, " + ")
}

// say tells a box to who cannot see it.
func (b *Box) say(p *say.Printer, on *Box, up bool) string {
	switch b.Kind {
	case KinMore:
		if up {
			return p.Line("form.lots_more_from", fact.Count("n", b.Count), fact.Weighed("mass", b.Mass), fact.Name("lot", string(on.Lot.Lot)))
		}
		return p.Line("form.lots_more_into", fact.Count("n", b.Count), fact.Weighed("mass", b.Mass), fact.Name("lot", string(on.Lot.Lot)))
	case kinOutside:
		return p.Line("form.from_outside", fact.Weighed("mass", b.Mass))
	case kinFound:
		return p.Line("form.found_at_recount_mass", fact.Weighed("mass", b.Mass))
	case kinMill:
		return p.Line("form.mass_in_mill", fact.Weighed("mass", b.Mass))
	case kinLost:
		return p.Line("form.lost_mass", fact.Weighed("mass", b.Mass), fact.Name("words", b.Words))
	}
	way := p.Line("form.of_it_went_into", fact.Weighed("mass", b.Mass), fact.Name("lot", string(on.Lot.Lot)))
	if !up {
		way = p.Line("form.of_went_into_it", fact.Weighed("mass", b.Mass), fact.Name("lot", string(on.Lot.Lot)))
	}
	text := p.Line("form.lot_on_hand", fact.Name("lot", string(b.Lot.Lot)), fact.Name("lot2", kinWords(p, b.Lot)), fact.Weighed("on_hand", b.Lot.OnHand), fact.Name("way", way))
	if b.Again {
		text += p.Line("form.family_drawn_elsewhere")
	}
	if b.Door > 0 {
		text += p.Line("form.of_it_came_from_outside", fact.Weighed("door", b.Door))
	}
	return text
}

// kinWords is a lot's name, or what it is.
func kinWords(p *say.Printer, r traceability.Relative) string {
	if r.Name != "" {
		return r.Name
	}
	return desk.LotWhat(p, &shop.Lot{Class: r.Class, Polymer: r.Polymer, Colour: r.Colour})
}

// wide is the width of a mass in the picture.
func (k *Tree) wide(mass float64) float64 { return math.Max(0, mass) * k.Scale }
