package shop

import (
	"fmt"
	"regexp"
	"strings"

	"hopperful/quantity"
)

// The phrases of [Describe] that take more than a line.

func tellSorted(b *Sorted) string {
	var heaps []string
	for _, p := range b.Into {
		heap := fmt.Sprintf("%s %s", p.Lot, grams(p.Mass))
		if p.Halogen == Yes {
			heap += ", suspected of chlorine"
		}
		heaps = append(heaps, heap)
	}
	if value(b.Metal) > 0 {
		heaps = append(heaps, grams(*b.Metal)+" of metal cut out")
	}
	if value(b.Waste) > 0 {
		heaps = append(heaps, grams(*b.Waste)+" thrown away")
	}
	return fmt.Sprintf("sorted %s into %s", b.From, strings.Join(heaps, ", "))
}

func tellGround(b *Ground) string {
	text := fmt.Sprintf("ground %s of %s in %s for %s", grams(b.Charge), b.From, b.Mill, short(quantity.Duration, b.Run))
	if b.Level != nil {
		text += fmt.Sprintf(" at level %d", *b.Level)
	}
	if b.Product != nil {
		text += fmt.Sprintf(": %s into %s", grams(*b.Product), b.Into)
	} else {
		text += fmt.Sprintf(": into %s, not weighed", b.Into)
	}
	if b.Stalled {
		text += ", stalled"
	}
	return text
}

func tellBlended(b *Blended) string {
	var parts []string
	for _, p := range b.From {
		parts = append(parts, fmt.Sprintf("%s of %s", grams(p.Mass), p.Lot))
	}
	return fmt.Sprintf("blended %s into %s", strings.Join(parts, ", "), b.Into)
}

func tellPrinted(b *Printed) string {
	name := b.Print
	if name == "" {
		name = "a part"
	}
	text := fmt.Sprintf("printed %s from %s of %s", name, grams(b.Mass), b.From)
	if b.Into != "" {
		text += " as " + string(b.Into)
	}
	if b.Moisture != nil {
		text += " with " + quantity.Share.Show(*b.Moisture) + " of water in it"
	}
	switch {
	case b.Good == Yes:
		text += ": good"
	case b.Good == No && b.Why != "":
		text += ": failed, " + unstopped(b.Why)
	case b.Good == No:
		text += ": failed"
	}
	return text
}

func tellSieved(b *Sieved) string {
	if b.Photo != nil {
		text := fmt.Sprintf("photographed %s of %s: %d grains in %d pictures", grams(b.Charge), b.Lot, b.Photo.Grains, b.Photo.Pictures)
		if b.Photo.Pictures == 1 {
			text = strings.TrimSuffix(text, "s")
		}
		return text
	}
	text := fmt.Sprintf("sieved %s of %s on %d sieves", grams(b.Charge), b.Lot, len(b.Sieves))
	if len(b.Sieves) == 1 {
		text = strings.TrimSuffix(text, "s")
	}
	_, pan := b.Net()
	text += ", " + grams(pan) + " in the pan"
	switch {
	case b.LongFound != nil && *b.LongFound == 0:
		text += ", no long grains"
	case b.LongFound != nil:
		text += fmt.Sprintf(", long grains: %d", *b.LongFound)
	}
	return text
}

func tellMagnet(b *PassedMagnet) string {
	what := string(b.Lot)
	if b.Passed != nil {
		what = grams(*b.Passed) + " of " + what
	}
	if b.Metal == 0 {
		return "let " + what + " over the magnet: no metal caught"
	}
	return "let " + what + " over the magnet: " + grams(b.Metal) + " of metal caught"
}

func tellDried(b *Dried) string {
	text := fmt.Sprintf("dried %s for %s at %s", b.Lot, short(quantity.Duration, b.Time), short(quantity.Temperature, b.Temperature))
	switch b.Way {
	case DryAir:
		text += " in dry air"
	case Oven:
		text += " in an oven"
	case Dehydrator, DesiccantBox:
		text += " in a " + string(b.Way)
	}
	if b.In != nil && b.Out != nil {
		text += ": " + grams(*b.In) + " in, " + grams(*b.Out) + " out"
	}
	return text
}

func tellColoured(b *Coloured) string {
	how := map[ColourWay]string{CardPhoto: " from a photo beside a white card", Instrument: " with an instrument", ByEye: " by eye on a screen"}
	text := fmt.Sprintf("took the colour of %s", b.Lot)
	if b.Melted == Yes {
		text += ", melted,"
	}
	text += how[b.How]
	switch {
	case b.RGB != "":
		text += ": " + b.RGB
	case b.Lab != nil:
		text += fmt.Sprintf(": L* %.4g, a* %.4g, b* %.4g at %d degrees", b.Lab.L, b.Lab.A, b.Lab.B, b.Lab.Observer)
	case len(b.Curve) > 0:
		text += fmt.Sprintf(": a curve of %d bands", len(b.Curve))
	}
	return text
}

func tellFlow(b *FlowTested) string {
	hot := ""
	if b.Temperature != nil {
		hot = " at " + short(quantity.Temperature, *b.Temperature)
	}
	if b.Printer == "" {
		load := ""
		if b.Load != nil {
			load = " under " + grams(*b.Load)
		}
		return fmt.Sprintf("cut the melt of %s %d times%s%s: %s in all", b.Lot, len(b.Cuts), hot, load, grams(b.Spent()))
	}
	turning := ""
	if b.Screw != nil {
		turning = " with the screw at " + short(quantity.Rotation, *b.Screw)
	}
	return fmt.Sprintf("tested the flow of %s at %s%s%s: %s in %s", b.Lot, b.Printer, hot, turning,
		grams(b.Spent()), short(quantity.Duration, value(b.Time)))
}

func tellServiced(b *Serviced) string {
	part := string(b.Part)
	if b.Part == OtherPart {
		part = "another part"
	} else {
		part = "the " + part
	}
	text := string(b.What) + " " + part + " of " + b.Mill
	if b.What == FoundDamaged {
		text = "found " + part + " of " + b.Mill + " damaged"
	}
	switch b.Sound {
	case Yes:
		text += ": sound"
	case No:
		text += ": not sound"
	}
	return text
}

func tellHappened(b *Happened) string {
	var at []string
	for _, name := range []string{b.Mill, b.Printer} {
		if name != "" {
			at = append(at, name)
		}
	}
	what := string(b.What)
	if b.What == OtherMishap {
		what = "something else"
	}
	text := "noted at " + strings.Join(at, " and ") + ": " + what
	if b.Lot != "" {
		text += ", with " + string(b.Lot) + " in it"
	}
	return text
}

// matter names polymer and colour, as far as they are known.
func matter(polymer, colour string) string {
	if polymer == "" {
		polymer = "unknown polymer"
	}
	return strings.TrimSpace(polymer + " " + colour)
}

// unstopped is a person's sentence without its full stop.
func unstopped(text string) string { return strings.TrimRight(text, ". \n\r\t") }

// tails are zeros behind a decimal point, with the point when nothing else is.
var tails = regexp.MustCompile(`\.0+\b|(\.\d*?[1-9])0+\b`)

// short shows a number without the zeros that only stand there because three
// digits are usual: what was read as 59 s is not 59.0 s.
func short(kind quantity.Kind, x float64) string {
	return tails.ReplaceAllString(kind.Show(x), "$1")
}
