package web

import (
	"fmt"
	"strings"

	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// said is a record in a sentence, with the lots it is about.
type said struct {
	What string // in two words
	Text string
	Lots []shop.LotID
}

// describe tells a record to a person.
func describe(r shop.Record) said {
	g := grams
	switch b := r.Body.(type) {
	case *shop.TakenIn:
		like := shop.Lot{Class: b.Class, Polymer: b.Polymer, Colour: b.Colour}
		return said{"taken in", fmt.Sprintf("%s of %s taken in as %s.", g(b.Mass), lotWhat(&like), b.Lot), []shop.LotID{b.Lot}}
	case *shop.Ground:
		return said{"ground", describeGround(b), []shop.LotID{b.From, b.Into}}
	case *shop.Sorted:
		return describeSorted(b)
	case *shop.Weighed:
		return said{"weighed", fmt.Sprintf("%s weighs %s.", b.Lot, g(b.Mass)), []shop.LotID{b.Lot}}
	case *shop.Blended:
		return describeBlended(b)
	case *shop.Printed:
		text := fmt.Sprintf("%s of %s printed as %s", g(b.Mass), b.From, b.Print)
		switch b.Good {
		case shop.Yes:
			text += ", good"
		case shop.No:
			text += ", failed"
		}
		return said{"printed", text + ".", []shop.LotID{b.From}}
	case *shop.Discarded:
		return said{"thrown away", fmt.Sprintf("%s of %s thrown away: %s.", g(b.Mass), b.Lot, strings.TrimSuffix(b.Why, ".")), []shop.LotID{b.Lot}}
	}
	return describeSetting(r.Body)
}

func describeGround(b *shop.Ground) string {
	text := fmt.Sprintf("%s of %s ground for %s", grams(b.Charge), b.From, untailed(quantity.Duration.Show(b.Run)))
	if b.Level != nil {
		text += fmt.Sprintf(" at level %d", *b.Level)
	}
	text += " on " + b.Mill
	if b.Product != nil {
		text += fmt.Sprintf("; %s out into %s", grams(*b.Product), b.Into)
	} else {
		text += fmt.Sprintf("; product into %s, not weighed yet", b.Into)
	}
	if b.Stalled {
		text += "; the blade stalled"
	}
	return text + "."
}

func describeSorted(b *shop.Sorted) said {
	s := said{What: "sorted", Lots: []shop.LotID{b.From}}
	var parts []string
	for _, p := range b.Into {
		parts = append(parts, fmt.Sprintf("%s into %s", grams(p.Mass), p.Lot))
		s.Lots = append(s.Lots, p.Lot)
	}
	for _, out := range []struct {
		mass *float64
		say  string
	}{{b.Metal, "of metal cut out"}, {b.Waste, "thrown away"}} {
		if out.mass != nil && *out.mass > 0 {
			parts = append(parts, grams(*out.mass)+" "+out.say)
		}
	}
	s.Text = fmt.Sprintf("%s sorted: %s.", b.From, strings.Join(parts, ", "))
	return s
}

func describeBlended(b *shop.Blended) said {
	s := said{What: "blended", Lots: []shop.LotID{b.Into}}
	var parts []string
	for _, p := range b.From {
		parts = append(parts, fmt.Sprintf("%s of %s", grams(p.Mass), p.Lot))
		s.Lots = append(s.Lots, p.Lot)
	}
	s.Text = fmt.Sprintf("%s blended into %s.", strings.Join(parts, " and "), b.Into)
	return s
}

// describeSetting tells what a record says of the shop's own things.
func describeSetting(body shop.Body) said {
	switch b := body.(type) {
	case *shop.ShopSet:
		return said{What: "settings", Text: "The shop's settings."}
	case *shop.MillSet:
		return said{What: "mill", Text: "The mill " + b.Mill.Name + " described."}
	case *shop.ScaleSet:
		return said{What: "scale", Text: "The scale " + b.Scale.Name + " described."}
	case *shop.PrinterSet:
		return said{What: "printer", Text: "The printer " + b.Printer.Name + " described."}
	case *shop.PersonSet:
		return said{What: "person", Text: b.Name + " named as working here."}
	case *shop.NeedSet:
		return said{What: "need", Text: "Wanted: " + b.Need.Name + "."}
	case *shop.MaterialSet:
		return said{What: "material", Text: fmt.Sprintf("%s of %s: the shop's own value.", polymer.Property(b.Property), b.Polymer)}
	case *shop.Void:
		return said{What: "struck out", Text: "A record struck out: " + strings.TrimSuffix(b.Why, ".") + "."}
	}
	return said{What: "record", Text: "A record."}
}
