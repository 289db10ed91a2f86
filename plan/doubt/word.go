package doubt

import (
	"fmt"
	"strings"

	"hopperful/answer"
	"hopperful/polymer"
	"hopperful/quantity"
	"hopperful/shop"
)

// fields are the answers of a record by the name a person knows them under.
var fields = map[string]string{
	"charge_kg": "charge", "product_kg": "product", "left_kg": "mass left in the mill", "swept_kg": "mass swept up", "run_s": "run", "level": "level",
	"rest_before_s": "rest", "wall_before_k": "wall before", "wall_after_k": "wall after", "charge_before_k": "charge before", "charge_after_k": "charge after",
	"energy_j": "energy", "mass_kg": "mass", "in_kg": "mass put into the dryer", "out_kg": "mass out of the dryer", "poured_kg": "mass poured", "tapped_kg": "mass tapped",
	"metal_kg": "metal", "passed_kg": "mass let over the magnet", "dust_kg": "dust", "lot": "mass extruded", "into": "sum of all heaps, metal and waste",
}

// named is a field in a person's words.
func named(path string) string {
	if name, ok := fields[path]; ok {
		return name
	}
	if i := strings.LastIndex(path, "."); i >= 0 {
		return named(path[i+1:])
	}
	return path
}

// asked is one question's wording: what is odd, and what would make it so. Both
// are told the field, its value and its bound, in this order.
type asked struct{ what, unless string }

// asks has a line for every code; a test holds it.
var asks = map[shop.AskCode]asked{
	shop.ChargeOverChamber: {"The %s of %s is more than lies loosely in the mill's chamber, about %s.", "It can be so if the chamber is larger than written down, or the scrap was pressed in."},
	shop.ChargeOverUsual:   {"The %s of %s is far above the largest on record, %s.", "It can be so if you filled the mill as never before."},
	shop.ChargeUnderUsual:  {"The %s of %s is far below what this mill is given, at least %s.", "It can be so if it was only a handful."},
	shop.MoreOutThanIn:     {"The %s of %s does not fit: in all more came out than the %s that went in or may have lain in the mill.", "It can be so if more lay in the mill than its records say; then correct the run that left it."},
	shop.LittleOut:         {"The %s of %s is little: after other runs it was at least %s.", "It can be so if the screen was blocked or the run cut short."},
	shop.MassMissing:       {"The %s of %s leaves much missing: of what went in, at least %s should be there.", "It can be so if some was spilled or thrown away; then add it as swept up."},
	shop.LevelOverLast:     {"The %s %s is above the controller's last, %s.", "It can be so if the controller has more levels than written down; describe it."},
	shop.RunLong:           {"The %s of %s is long; minutes are usual, and above %s it is asked about.", "It can be so if it ran all the time."},
	shop.RunsOverlap:       {"The %s of %s overlaps with the run before, which was only %s earlier.", "It can be so if one of the two times was rounded."},
	shop.RestTooLong:       {"The %s of %s is longer than the time since the run before, %s.", "It can be so if one of the two times was rounded."},
	shop.DayTooShort:       {"The %s of %s does not go into the day: %s of it were left.", "It can be so if some of its runs were on another day."},
	shop.ColderAfter:       {"The %s, %s, is colder than before the run, %s; running warms.", "It can be so if the thermometer was not on the same place."},
	shop.ColderThanRoom:    {"The %s, %s, is colder than the room, %s.", "It can be so if the room was colder than read."},
	shop.HotterThanPower:   {"The %s, %s, is hotter than the motor can have made it in that time, about %s.", "It can be so if it was hot before, or the thermometer was near the bearing. Until you say, it is believed."},
	shop.EnergyOverPower:   {"The %s of %s is more than the motor can have drawn in that time, %s.", "It can be so if the meter counted something else too, or the power on the label is another."},
	shop.EnergyUnderIdle:   {"The %s of %s is less than anything that turns draws in that time, %s.", "It can be so if the meter was switched on late."},
	shop.MoreThanLot:       {"The %s of %s is more than lot LOT has by the records, %s.", "It can be so if more went into the lot than was written down; then weigh what is left of it."},
	shop.MoreThanGround:    {"The %s of %s is more than lot LOT can have: with all that was ground into it %s.", "It can be so if other material was added to it."},
	shop.HeavierDried:      {"The %s, %s, is more than went in, %s; drying takes water off.", "It can be so if the two weighings were of different material."},
	shop.MuchDriedOff:      {"The %s, %s, leaves more missing than water can be: at least %s should have come out.", "It can be so if it was dripping wet, or some was taken out."},
	shop.TappedLighter:     {"The %s, %s, is less than was poured, %s; a jar tapped down and filled up again holds more.", "It can be so if it was not filled up again."},
	shop.JarTooDense:       {"The %s of %s is more than the jar can hold of it loosely, %s.", "Weigh the jar again, empty and full, and fill it with water to check its volume; until then the books' bulk density counts."},
	shop.ColourOfNoParent:  {"The %s %s is far from what its parents give, %s.", "It can be so if something else came in."},
}

// worded puts a question into words.
func worded(s *shop.State, r shop.Record, a shop.Ask) Question {
	q := Question{Record: a.Record, Code: a.Code, Field: a.Field, Meant: a.Meant, Kind: a.Kind.String()}
	show := a.Kind.Plain
	if a.Kind == quantity.Count {
		show = func(x float64) string { return fmt.Sprint(int(x)) }
	}
	words := asks[a.Code]
	bound := show(a.Bound)
	if a.Code == shop.LevelOverLast && a.Bound == 0 {
		bound = "of which it has none"
	}
	q.What = fmt.Sprintf(strings.ReplaceAll(words.what, "LOT", string(a.Lot)), named(a.Field), show(a.Value), bound)
	q.Remedy = words.unless
	if a.Code == shop.JarTooDense {
		q.Spoiler = jar(s, r, a, q.Spoiler)
	}
	if a.Meant == nil {
		return q
	}
	q.Shown = show(*a.Meant)
	if a.Swap != "" {
		q.Remedy = fmt.Sprintf("Were %s and %s swapped? ", named(a.Field), named(a.Swap)) + q.Remedy
		return q
	}
	q.Remedy = fmt.Sprintf("Was it %s? ", q.Shown) + q.Remedy
	return q
}

// jar tells the share of the solid's density that a jar's contents come to.
func jar(s *shop.State, r shop.Record, a shop.Ask, plain answer.Spoiler) answer.Spoiler {
	volume := 0.0
	switch b := r.Body.(type) {
	case *shop.JarWeighed:
		volume = b.Jar
	case *shop.Ground:
		if m, ok := s.MillAt(r.ID); ok && m.Jar != nil {
			volume = *m.Jar
		}
	}
	lot, known := s.Lot(a.Lot)
	table, err := s.Table()
	if !known || err != nil || volume == 0 {
		return plain
	}
	p, err := table.Find(lot.Polymer)
	if err != nil {
		return plain
	}
	solid, err := p.Value(polymer.Density)
	if err != nil {
		return plain
	}
	if d, doubtful := TooDense(p.Name, a.Value, volume, solid.Value); doubtful {
		return d
	}
	return plain
}
