package shop

import (
	"strings"

	"hopperful/fact"
	"hopperful/quantity"
)

// The phrases of [Describe] that take more than a line, and what they share.

func tellSorted(b *Sorted) fact.Saying {
	var heaps []fact.Saying
	for _, p := range b.Into {
		heaps = append(heaps, fact.Say("told.heap", onLot("lot", p.Lot), fact.Weighed("mass", p.Mass), said("suspected", p.Halogen == Yes)))
	}
	if value(b.Metal) > 0 {
		heaps = append(heaps, fact.Say("told.metal_cut", fact.Weighed("mass", *b.Metal)))
	}
	if value(b.Waste) > 0 {
		heaps = append(heaps, fact.Say("told.waste", fact.Weighed("mass", *b.Waste)))
	}
	return fact.Say("told.sorted", onLot("lot", b.From), fact.Parts("heaps", heaps...))
}

func tellGround(b *Ground) fact.Saying {
	level := 0
	if b.Level != nil {
		level = *b.Level
	}
	return fact.Say("told.ground", fact.Weighed("charge", b.Charge), onLot("from", b.From), fact.Name("mill", b.Mill), fact.Read("run", quantity.Duration, b.Run),
		fact.Count("level", level), weighedOr("product", b.Product), onLot("into", b.Into), said("stalled", b.Stalled))
}

func tellBlended(b *Blended) fact.Saying {
	var parts []fact.Saying
	for _, p := range b.From {
		parts = append(parts, fact.Say("told.portion", fact.Weighed("mass", p.Mass), onLot("lot", p.Lot)))
	}
	return fact.Say("told.blended", fact.Parts("parts", parts...), onLot("into", b.Into))
}

func tellPrinted(b *Printed) fact.Saying {
	water := fact.Name("water", "")
	if b.Moisture != nil {
		water = fact.Measured("water", quantity.Share, *b.Moisture)
	}
	return fact.Say("told.printed", fact.Name("name", b.Print), fact.Weighed("mass", b.Mass), onLot("from", b.From), fact.Name("into", string(b.Into)), water,
		said("good", b.Good == Yes), said("failed", b.Good == No), fact.Name("why", unstopped(b.Why)))
}

func tellSieved(b *Sieved) fact.Saying {
	if b.Photo != nil {
		return fact.Say("told.photographed", fact.Count("n", b.Photo.Pictures), fact.Weighed("charge", b.Charge), onLot("lot", b.Lot), fact.Count("grains", b.Photo.Grains))
	}
	_, pan := b.Net()
	long := 0
	if b.LongFound != nil {
		long = *b.LongFound
	}
	return fact.Say("told.sieved", fact.Count("n", len(b.Sieves)), fact.Weighed("charge", b.Charge), onLot("lot", b.Lot), fact.Weighed("pan", pan),
		said("looked", b.LongFound != nil), fact.Count("long", long))
}

func tellDried(b *Dried) fact.Saying {
	in, out := fact.Name("in", ""), fact.Name("out", "")
	if b.In != nil && b.Out != nil {
		in, out = fact.Weighed("in", *b.In), fact.Weighed("out", *b.Out)
	}
	way := term("way", "dried_in", string(b.Way))
	if b.Way == OtherWay {
		way = fact.Name("way", "")
	}
	return fact.Say("told.dried", onLot("lot", b.Lot), fact.Read("time", quantity.Duration, b.Time), fact.Read("heat", quantity.Temperature, b.Temperature), way, in, out)
}

func tellColoured(b *Coloured) fact.Saying {
	how := term("how", "taken_by", string(b.How))
	melted := said("melted", b.Melted == Yes)
	switch {
	case b.RGB != "":
		return fact.Say("told.coloured", onLot("lot", b.Lot), melted, how, fact.Name("rgb", b.RGB))
	case b.Lab != nil:
		number := func(name string, x float64) fact.Fact { return fact.Set(name, quantity.Number, x) }
		return fact.Say("told.coloured_lab", onLot("lot", b.Lot), melted, how, number("l", b.Lab.L), number("a", b.Lab.A), number("b", b.Lab.B), fact.Count("observer", b.Lab.Observer))
	}
	return fact.Say("told.coloured_curve", fact.Count("n", len(b.Curve)), onLot("lot", b.Lot), melted, how)
}

func tellFlow(b *FlowTested) fact.Saying {
	hot := readOr("heat", quantity.Temperature, b.Temperature)
	if b.Printer == "" {
		return fact.Say("told.flow_cut", onLot("lot", b.Lot), fact.Count("n", len(b.Cuts)), hot, weighedOr("load", b.Load), fact.Weighed("mass", b.Spent()))
	}
	return fact.Say("told.flow", onLot("lot", b.Lot), fact.Name("printer", b.Printer), hot, readOr("screw", quantity.Rotation, b.Screw),
		fact.Weighed("mass", b.Spent()), fact.Read("time", quantity.Duration, value(b.Time)))
}

func tellHappened(b *Happened) fact.Saying {
	var at []string
	for _, name := range []string{b.Mill, b.Printer} {
		if name != "" {
			at = append(at, name)
		}
	}
	return fact.Say("told.happened", fact.Names("at", at), term("what", "mishap", string(b.What)), fact.Name("lot", string(b.Lot)))
}

// onLot is a lot by its label alone.
func onLot(name string, id LotID) fact.Fact { return fact.Lot(name, string(id), "") }

// weighedOr is a mass, and nothing where none was weighed.
func weighedOr(name string, kg *float64) fact.Fact {
	if kg == nil {
		return fact.Name(name, "")
	}
	return fact.Weighed(name, *kg)
}

// readOr is a number read off an instrument, and nothing where none was.
func readOr(name string, kind quantity.Kind, x *float64) fact.Fact {
	if x == nil {
		return fact.Name(name, "")
	}
	return fact.Read(name, kind, *x)
}

// number is a record's number, and nothing for none.
func number(name string, id RecordID) fact.Fact {
	if id == 0 {
		return fact.Name(name, "")
	}
	return fact.Count(name, int(id))
}

// said is what a line asks for with if.
func said(name string, so bool) fact.Fact { return fact.Name(name, map[bool]string{true: name}[so]) }

// term is the word for one value of a scale, and nothing for none.
func term(name, scale, value string) fact.Fact {
	if value == "" {
		return fact.Name(name, "")
	}
	return fact.Word(name, scale+"."+strings.ReplaceAll(value, " ", "_"))
}

// unstopped is a person's sentence without its full stop.
func unstopped(text string) string { return strings.TrimRight(text, ". \n\r\t") }
