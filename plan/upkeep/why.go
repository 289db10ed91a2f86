package upkeep

import (
	"math"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/process/metal"
	"hopperful/quantity"
	"hopperful/shop"
)

// PartWord is what a part is called.
func PartWord(p shop.MillPart) fact.Fact {
	switch p {
	case shop.BladePart:
		return fact.Word("part", "upkeep.part_blade")
	case shop.ScreenPart:
		return fact.Word("part", "upkeep.part_screen")
	case shop.SealPart:
		return fact.Word("part", "upkeep.part_seal")
	case shop.MagnetPart:
		return fact.Word("part", "upkeep.part_magnet")
	case shop.BearingPart:
		return fact.Word("part", "upkeep.part_bearings")
	}
	return fact.Word("part", "upkeep.part_other")
}

// partKey is a part as commands and pages take it.
func partKey(p shop.MillPart) fact.Fact { return fact.Name("key", string(p)) }

// reasons are the numbers behind it, part by part.
func (j *job) reasons() error {
	s := answer.Section{Key: "upkeep_looks", Notes: []fact.Saying{fact.Say("upkeep.how_looks")}, Figures: []figure.Figure{j.look, j.spoilt}}
	for _, d := range j.dues {
		every := d.every
		every.Key += "_" + string(d.Part.Part)
		s.Figures = append(s.Figures, every)
	}
	j.doc.Reasons = append(j.doc.Reasons, s)
	lives := answer.Table{Key: "upkeep_lives", Columns: []answer.Column{{Key: "part"}, {Key: "sound_at", Numbers: true}, {Key: "failed_by", Numbers: true}}}
	ended := 0
	for _, d := range j.dues {
		for _, w := range d.Lives {
			by := fact.Word("to", "upkeep.runs_on")
			if !math.IsInf(w.To, 1) {
				by = fact.About("to", quantity.Mass, w.To)
				ended++
			}
			lives.Rows = append(lives.Rows, []fact.Fact{PartWord(d.Part.Part), fact.About("from", quantity.Mass, w.From), by})
		}
	}
	l := answer.Section{Key: "upkeep_lives", Notes: []fact.Saying{fact.Say("upkeep.how_lives", fact.Count("n", ended))}}
	if len(lives.Rows) > 0 {
		l.Tables = append(l.Tables, lives)
	}
	j.doc.Reasons = append(j.doc.Reasons, l)
	j.found()
	return j.wear()
}

// mostFound is how many looks and repairs are listed, the newest first.
const mostFound = 20

// found lists what was found and done.
func (j *job) found() {
	all := j.state.Services(j.mill)
	if len(all) == 0 {
		return
	}
	t := answer.Table{Key: "upkeep_found", Columns: []answer.Column{{Key: "look_record", Numbers: true}, {Key: "look_when"}, {Key: "part"}, {Key: "look_done"}}}
	for _, e := range all[:min(len(all), mostFound)] {
		t.Rows = append(t.Rows, []fact.Fact{fact.Count("record", int(e.ID)), fact.Name("when", e.At.Format(time.DateOnly)), PartWord(e.Body.Part), doneWord(e.Body)})
	}
	j.doc.Tables = append(j.doc.Tables, t)
}

// doneWord is what was done to a part, and how it was.
func doneWord(b *shop.Serviced) fact.Fact {
	switch {
	case b.What == shop.FoundDamaged:
		return fact.Word("done", "upkeep.done_damaged")
	case b.What == shop.Replaced:
		return fact.Word("done", "upkeep.done_replaced")
	case b.What == shop.Repaired:
		return fact.Word("done", "upkeep.done_repaired")
	case b.What == shop.Sharpened:
		return fact.Word("done", "upkeep.done_sharpened")
	case b.Sound == shop.Yes:
		return fact.Word("done", "upkeep.done_sound")
	case b.Sound == shop.No:
		return fact.Word("done", "upkeep.done_not_sound")
	}
	return fact.Word("done", "upkeep.done_looked")
}

// wear is what blades and screens lost between weighings.
func (j *job) wear() error {
	s := answer.Section{Key: "upkeep_wear"}
	for _, d := range j.dues {
		for _, w := range d.Wear {
			got, err := metal.WearFromParts(metal.PartWeighing{Before: w.before, After: w.after, Ground: w.ground, Resolution: j.state.Resolution(w.before)})
			if err != nil { // heavier than before: something baked on, or another part
				s.Notes = append(s.Notes, fact.Say("upkeep.wear_unclear", PartWord(d.Part.Part), fact.Count("record", int(w.record))))
				continue
			}
			f := figure.Figure{Key: "wear_" + string(d.Part.Part), Name: "upkeep.wear", Kind: quantity.Share, Value: got.Share, Low: got.Low, High: got.High, Basis: figure.Reckoned, Records: []int64{int64(w.record)}}
			s.Figures = append(s.Figures, f.From("(m₀ − m₁) / M", figure.Exact("ground", "upkeep.done", quantity.Mass, w.ground, figure.Measured)))
		}
	}
	if len(s.Notes)+len(s.Figures) > 0 {
		j.doc.Reasons = append(j.doc.Reasons, s)
	}
	return nil
}
