package cli

import (
	"fmt"
	"strings"

	"hopperful/quantity"
	"hopperful/shop"
)

// describe says in one line what a record says.
func describe(b shop.Body) string {
	switch b := b.(type) {
	case *shop.TakenIn:
		return fmt.Sprintf("took in %s of %s as %s", mass(b.Mass), material(b.Polymer, b.Colour), b.Lot)
	case *shop.Sorted:
		return describeSorted(b)
	case *shop.Ground:
		return describeGround(b)
	case *shop.Blended:
		return describeBlended(b)
	case *shop.Weighed:
		return fmt.Sprintf("weighed %s: %s", b.Lot, mass(b.Mass))
	case *shop.Printed:
		return describePrinted(b)
	case *shop.Discarded:
		return fmt.Sprintf("threw away %s of %s: %s", mass(b.Mass), b.Lot, b.Why)
	case *shop.Void:
		return "struck out: " + b.Why
	}
	return describeSetting(b)
}

// describeSetting is describe for what the shop is, rather than what was done.
func describeSetting(b shop.Body) string {
	switch b := b.(type) {
	case *shop.ShopSet:
		return "described the shop " + b.Name
	case *shop.PersonSet:
		return retired("person "+b.Name, b.Retired)
	case *shop.MillSet:
		return retired("mill "+b.Mill.Name, b.Mill.Retired)
	case *shop.ScaleSet:
		return retired("scale "+b.Scale.Name, b.Scale.Retired)
	case *shop.PrinterSet:
		return retired("printer "+b.Printer.Name, b.Printer.Retired)
	case *shop.MaterialSet:
		return fmt.Sprintf("gave %s its own %s", b.Polymer, strings.ReplaceAll(b.Property, "_", " "))
	case *shop.NeedSet:
		return "saved the need " + b.Need.Name
	}
	return b.Kind()
}

func retired(what string, gone bool) string {
	if gone {
		return "retired the " + what
	}
	return "described the " + what
}

func describeSorted(b *shop.Sorted) string {
	var heaps []string
	for _, p := range b.Into {
		heaps = append(heaps, fmt.Sprintf("%s %s", p.Lot, mass(p.Mass)))
	}
	if b.Metal != nil {
		heaps = append(heaps, "metal "+mass(*b.Metal))
	}
	if b.Waste != nil {
		heaps = append(heaps, "waste "+mass(*b.Waste))
	}
	return fmt.Sprintf("sorted %s into %s", b.From, strings.Join(heaps, ", "))
}

func describeGround(b *shop.Ground) string {
	text := fmt.Sprintf("ground %s of %s in %s for %s", mass(b.Charge), b.From, b.Mill, quantity.Duration.Show(b.Run))
	if b.Level != nil {
		text += fmt.Sprintf(" at level %d", *b.Level)
	}
	if b.Product != nil {
		text += fmt.Sprintf(": %s into %s", mass(*b.Product), b.Into)
	} else {
		text += fmt.Sprintf(": into %s, not weighed", b.Into)
	}
	if b.Stalled {
		text += ", stalled"
	}
	return text
}

func describeBlended(b *shop.Blended) string {
	var parts []string
	for _, p := range b.From {
		parts = append(parts, fmt.Sprintf("%s of %s", mass(p.Mass), p.Lot))
	}
	return fmt.Sprintf("blended %s into %s", strings.Join(parts, ", "), b.Into)
}

func describePrinted(b *shop.Printed) string {
	text := fmt.Sprintf("printed %s from %s of %s", b.Print, mass(b.Mass), b.From)
	switch {
	case b.Good == shop.Yes:
		text += ": good"
	case b.Good == shop.No && b.Why != "":
		text += ": failed, " + b.Why
	case b.Good == shop.No:
		text += ": failed"
	}
	return text
}

// material names polymer and colour, as far as they are known.
func material(polymer, colour string) string {
	if polymer == "" {
		polymer = "unknown polymer"
	}
	return strings.TrimSpace(polymer + " " + colour)
}

func mass(kg float64) string { return quantity.Mass.Show(kg) }
