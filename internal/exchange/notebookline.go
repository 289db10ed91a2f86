package exchange

import (
	"encoding/json"
	"errors"
	"regexp"
	"strconv"
	"strings"
	"time"

	"hopperful/fact"
	"hopperful/plan/notebook"
	"hopperful/quantity"
	"hopperful/shop"
)

// fieldsOf says which part of a line is which field of which record. A second
// part for the same field counts where the first is empty.
var fieldsOf = map[string][]struct {
	part  part
	field string
}{
	"taken_in": {{inLot, "lot"}, {inClass, "class"}, {inName, "name"}, {inPolymer, "polymer"}, {inColour, "colour"}, {inMetal, "metal"}, {inMass, "mass_kg"}, {inPrice, "price"},
		{inInfill, "pieces.infill"}, {inLargest, "pieces.largest_m"}, {inWall, "pieces.wall_m"}},
	"ground": {{inMill, "mill"}, {inFrom, "from"}, {inLot, "from"}, {inInto, "into"}, {inCharge, "charge_kg"}, {inMass, "charge_kg"}, {inProduct, "product_kg"}, {inLeft, "left_kg"}, {inSwept, "swept_kg"},
		{inRun, "run_s"}, {inLevel, "level"}, {inChargeBefore, "charge_before_k"}, {inChargeAfter, "charge_after_k"}, {inWallBefore, "wall_before_k"}, {inWallAfter, "wall_after_k"},
		{inRoom, "room_k"}, {inRest, "rest_before_s"}, {inEnergy, "energy_j"}, {inHole, "hole_m"}, {inStalled, "stalled"}},
	"weighed": {{inLot, "lot"}, {inInto, "lot"}, {inFrom, "lot"}, {inMass, "mass_kg"}, {inProduct, "mass_kg"}},
	"printed": {{inFrom, "from"}, {inLot, "from"}, {inInto, "into"}, {inPrint, "print"}, {inName, "print"}, {inNeed, "need"}, {inMass, "mass_kg"}, {inCharge, "mass_kg"}, {inPurged, "purged_kg"},
		{inGood, "good"}, {inWhy, "why"}},
	"discarded": {{inLot, "lot"}, {inFrom, "lot"}, {inMass, "mass_kg"}, {inWhy, "why"}},
	"dried": {{inLot, "lot"}, {inFrom, "lot"}, {inWay, "way"}, {inTemperature, "temperature_k"}, {inRun, "time_s"}, {inBefore, "in_kg"}, {inMass, "in_kg"}, {inCharge, "in_kg"}, {inAfter, "out_kg"}, {inProduct, "out_kg"},
		{inEnergy, "energy_j"}},
	"passed_magnet": {{inLot, "lot"}, {inFrom, "lot"}, {inCaught, "metal_kg"}, {inMass, "passed_kg"}},
	"dedusted":      {{inLot, "lot"}, {inFrom, "lot"}, {inSwept, "dust_kg"}, {inMass, "dust_kg"}, {inHole, "opening_m"}},
	"jar_weighed":   {{inLot, "lot"}, {inFrom, "lot"}, {inJar, "jar_m3"}, {inMass, "poured_kg"}, {inTapped, "tapped_kg"}},
	"serviced":      {{inMill, "mill"}, {inPrint, "part"}, {inName, "part"}, {inGood, "sound"}, {inBefore, "before_kg"}, {inAfter, "after_kg"}},
}

// needed are the fields a record says nothing without, and how a missing one is told.
var needed = map[string][]struct {
	field string
	kind  quantity.Kind
	say   func() fact.Saying
}{
	"taken_in": {{"mass_kg", quantity.Mass, noMass}}, "weighed": {{"mass_kg", quantity.Mass, noMass}}, "printed": {{"mass_kg", quantity.Mass, noMass}}, "discarded": {{"mass_kg", quantity.Mass, noMass}},
	"ground":        {{"run_s", quantity.Duration, func() fact.Saying { return fact.Say("notebook.no_run") }}, {"charge_kg", quantity.Mass, noMass}},
	"dried":         {{"temperature_k", quantity.Temperature, func() fact.Saying { return fact.Say("notebook.no_temperature") }}, {"time_s", quantity.Duration, func() fact.Saying { return fact.Say("notebook.no_hours") }}},
	"passed_magnet": {{"metal_kg", quantity.Mass, func() fact.Saying { return fact.Say("notebook.no_metal") }}},
	"dedusted":      {{"dust_kg", quantity.Mass, noMass}},
	"jar_weighed":   {{"jar_m3", quantity.Volume, func() fact.Saying { return fact.Say("notebook.no_jar") }}, {"poured_kg", quantity.Mass, noMass}},
	"serviced":      {{"part", quantity.Count, func() fact.Saying { return fact.Say("notebook.no_part") }}},
}

func noMass() fact.Saying { return fact.Say("notebook.no_mass") }

// entry is one line on its way to a record.
type entry struct {
	page    *bookPage
	section *section
	line    line
	out     notebook.Line
	cells   map[part]string
	heads   map[part]pillar
	tree    map[string]any
	notes   []string
}

func (e *entry) wrong(field, column string, what, advice fact.Saying) {
	e.out.Wrong = append(e.out.Wrong, notebook.Wrong{Field: field, Column: column, What: what, Advice: advice})
}

// read makes the record of a line, or says what is wrong with it.
func (e *entry) read() {
	e.gather()
	e.when()
	kind := e.kind()
	if kind == "" {
		e.wrong("", "", fact.Say("notebook.no_what"), fact.Say("notebook.do_what"))
		return
	}
	e.tree = map[string]any{}
	used := map[part]bool{inDate: true, inTime: true, inWhat: true, inBy: true, inNote: true, inPan: true}
	for _, f := range fieldsOf[kind] {
		text := e.cells[f.part]
		if text == "" {
			continue
		}
		if e.has(f.field) {
			continue // kept in the note below
		}
		used[f.part] = true
		e.out.Heads[f.field] = e.heads[f.part].word
		e.put(kind, f.part, f.field, text)
	}
	for _, c := range e.section.pillars {
		if text := e.cells[c.part]; text != "" && !used[c.part] && text != e.page.defaults[c.part] {
			e.notes = append(e.notes, c.word+": "+text)
		}
	}
	for _, c := range e.section.strange {
		if text := e.line.at(c.at); text != "" {
			e.notes = append(e.notes, c.word+": "+text)
		}
	}
	e.must(kind)
	e.out.Record.By = e.cells[inBy]
	e.out.Record.Note = strings.Join(append(notEmpty(e.cells[inNote]), e.notes...), "; ")
	if len(e.out.Wrong) == 0 {
		e.body(kind)
	}
}

func notEmpty(text string) []string {
	if text == "" {
		return nil
	}
	return []string{text}
}

// gather takes the cells by their parts: empty ones, those of which nobody knows,
// and those that repeat the line above.
func (e *entry) gather() {
	e.cells, e.heads = map[part]string{}, map[part]pillar{}
	for part, text := range e.page.defaults {
		e.cells[part] = text
	}
	for _, c := range e.section.pillars {
		e.heads[c.part] = c
		text := e.line.at(c.at)
		if _, ditto := asAbove[lower(text)]; ditto {
			text = e.page.above[c.part]
		}
		if _, unknown := nobodyKnows[lower(text)]; unknown {
			text = ""
		}
		if text != "" {
			e.cells[c.part] = text
		}
	}
	e.page.above = e.cells
}

// when finds the moment: a date holds for the lines below it, and a line without
// a time happened when the one above it did, so that their order stays.
func (e *entry) when() {
	p := e.page
	at, clock := p.at, time.Duration(-1)
	if text := e.cells[inDate]; text != "" {
		day, said, undecided, ok := p.reader.dating.read(text)
		head := e.heads[inDate].word
		switch {
		case !ok:
			e.wrong("at", head, fact.Say("notebook.not_read", fact.Name("text", text)), fact.Say("notebook.do_write_date"))
			return
		case undecided:
			e.wrong("at", head, fact.Say("notebook.two_orders", fact.Name("text", text)), fact.Say("notebook.do_day_first"))
			return
		}
		if day.Format(time.DateOnly) != at.Format(time.DateOnly) {
			at = day
		}
		if v, ok := clockOf(said); ok {
			clock = v
		}
	}
	if text := e.cells[inTime]; text != "" {
		v, ok := clockOf(text)
		if !ok {
			e.wrong("at", e.heads[inTime].word, fact.Say("notebook.not_read", fact.Name("text", text)), fact.Say("notebook.do_write_like", fact.Name("example", "14:05")))
			return
		}
		clock = v
	}
	if at.IsZero() {
		e.wrong("at", "", fact.Say("notebook.no_date"), fact.Say("notebook.do_write_date"))
		return
	}
	if clock >= 0 {
		y, m, d := at.Date()
		at = time.Date(y, m, d, 0, 0, 0, 0, at.Location()).Add(clock)
	}
	p.at, e.out.Record.At = at, at
}

// kind is what was done: said in the line, by the sheet, or plain from what is
// filled in.
func (e *entry) kind() string {
	if text := e.cells[inWhat]; text != "" {
		return kindWords[lower(text)]
	}
	if e.page.kind != "" {
		return e.page.kind
	}
	has := func(p part) bool { return e.cells[p] != "" }
	switch {
	case has(inCharge) && (has(inRun) || has(inProduct) || has(inLevel)), has(inRun) && has(inLevel):
		return "ground"
	case has(inCaught):
		return "passed_magnet"
	case has(inJar):
		return "jar_weighed"
	case has(inTemperature) && has(inRun):
		return "dried"
	case has(inPrint):
		return "printed"
	case (has(inPolymer) || has(inClass)) && has(inMass) && !has(inFrom):
		return "taken_in"
	case has(inLot) && has(inMass) && !has(inFrom) && !has(inInto):
		return "weighed"
	}
	return ""
}

func (e *entry) has(field string) bool {
	at := e.tree
	steps := strings.Split(field, ".")
	for _, s := range steps[:len(steps)-1] {
		at, _ = at[s].(map[string]any)
	}
	return at[steps[len(steps)-1]] != nil || e.out.Lots[field] != ""
}

func (e *entry) set(field string, v any) {
	if group, name, ok := strings.Cut(field, "."); ok {
		inner, _ := e.tree[group].(map[string]any)
		if inner == nil {
			inner = map[string]any{}
			e.tree[group] = inner
		}
		inner[name] = v
		return
	}
	e.tree[field] = v
}

// about begins a number that was guessed.
var about = regexp.MustCompile(`(?i)^(?:~|≈|about |approx\.? |ca\.? ?|circa |etwa |ungefähr )\s*`)

// put reads the text of one part into its field.
func (e *entry) put(kind string, p part, field, text string) {
	column := e.heads[p].word
	unread := func(example string) {
		e.wrong(field, column, fact.Say("notebook.not_read", fact.Name("text", text)), fact.Say("notebook.do_write_like", fact.Name("example", example)))
	}
	switch p {
	case inLot, inFrom, inInto:
		if id, err := shop.ParseLot(text); err == nil {
			e.set(field, id)
		} else {
			e.out.Lots[field] = text
		}
	case inClass, inStalled, inGood:
		e.choose(p, field, text, unread)
	case inWay:
		if way, ok := wayWords[lower(text)]; ok {
			e.set(field, way)
		} else {
			unread(string(shop.Oven))
		}
	case inPrint, inName:
		if kind != "serviced" {
			e.set(field, text)
		} else if part, ok := partOfMill[lower(text)]; ok {
			e.set(field, part)
		} else {
			unread(string(shop.ScreenPart))
		}
	default:
		if m, ok := measured[p]; ok {
			if v, ok := e.amount(p, m.kind, field, text); ok {
				e.set(field, v)
			}
			return
		}
		e.set(field, text)
	}
}

// choose reads a word that is one of a few.
func (e *entry) choose(p part, field, text string, unread func(string)) {
	if p == inClass {
		if class, ok := classWords[lower(text)]; ok {
			e.set(field, class)
		} else {
			unread("scrap")
		}
		return
	}
	yes, ok := answerWords[lower(text)]
	switch {
	case !ok:
		unread("yes")
	case p == inStalled:
		e.set(field, yes == "yes")
	default:
		e.set(field, yes)
	}
}

// examples are how the numbers of each kind may be written.
var examples = map[quantity.Kind]string{quantity.Mass: "90 g", quantity.Duration: "1 min 20 s", quantity.Temperature: "42 °C", quantity.Energy: "11 Wh", quantity.Length: "2 mm",
	quantity.Share: "15 %", quantity.Money: "12.50", quantity.Count: "8", quantity.Volume: "200 ml"}

// amount reads a number, less the pan where it was weighed with it.
func (e *entry) amount(p part, kind quantity.Kind, field, text string) (float64, bool) {
	head := e.heads[p]
	v, ok := e.number(p, kind, field, text)
	if !ok || !head.pan {
		return v, ok
	}
	pan := e.cells[inPan]
	if pan == "" {
		e.wrong(field, head.word, fact.Say("notebook.no_pan"), fact.Say("notebook.do_pan"))
		return 0, false
	}
	tare, ok := e.number(inPan, quantity.Mass, field, pan)
	if ok && v < tare {
		e.wrong(field, head.word, fact.Say("notebook.pan_heavier", fact.Name("text", text)), fact.Say("notebook.do_pan"))
		return 0, false
	}
	return tidy(v - tare), ok
}

// tidy takes the dust of binary numbers off a difference of masses [kg]; a
// microgram is less than any workshop's scale shows.
func tidy(kg float64) float64 {
	v, err := strconv.ParseFloat(strconv.FormatFloat(kg, 'f', 9, 64), 64)
	if err != nil {
		return kg
	}
	return v
}

// number reads a quantity from a cell.
func (e *entry) number(p part, kind quantity.Kind, field, text string) (float64, bool) {
	head := e.heads[p]
	bare := about.ReplaceAllString(text, "")
	if bare != text {
		e.notes = append(e.notes, head.word+": "+text)
	}
	unit := head.unit
	if kind == quantity.Duration && strings.Contains(bare, ":") && (unit == "" || quantityUnit(quantity.Duration, unit)) && strings.Count(bare, ":") == 1 && unit != "h" {
		unit = "min" // a mill runs and rests for minutes
	}
	v, err := kind.ParseOr(e.page.plain(bare), unit)
	if err == nil {
		if kind == quantity.Count && v != float64(int(v)) {
			e.wrong(field, head.word, fact.Say("notebook.not_read", fact.Name("text", text)), fact.Say("notebook.do_write_like", fact.Name("example", examples[kind])))
			return 0, false
		}
		return v, true
	}
	if _, bareNumber := strconv.ParseFloat(e.page.plain(bare), 64); bareNumber == nil && unit == "" && len(kind.Units()) > 0 {
		e.wrong(field, head.word, fact.Say("notebook.no_unit", fact.Name("text", text)), fact.Say("notebook.do_unit", fact.Name("heading", head.word), fact.Name("unit", measured[p].unit)))
		return 0, false
	}
	e.wrong(field, head.word, fact.Say("notebook.not_read", fact.Name("text", text)), fact.Say("notebook.do_write_like", fact.Name("example", examples[kind])))
	return 0, false
}

// must says what a record says nothing without.
func (e *entry) must(kind string) {
	missing := func(field string) bool {
		for _, w := range e.out.Wrong {
			if w.Field == field {
				return false
			}
		}
		return !e.has(field)
	}
	for _, w := range needed[kind] {
		if !missing(w.field) {
			continue
		}
		example := examples[w.kind]
		if w.field == "part" {
			example = string(shop.ScreenPart)
		}
		e.wrong(w.field, "", w.say(), fact.Say("notebook.do_write_like", fact.Name("example", example)))
	}
}

// body makes the record's body and holds it against what such a record may be.
func (e *entry) body(kind string) {
	if kind == "taken_in" && e.tree["class"] == nil {
		e.set("class", shop.Scrap)
		if id, ok := e.tree["lot"].(shop.LotID); ok {
			e.set("class", id.Class())
		}
	}
	switch {
	case kind == "dried" && e.tree["way"] == nil:
		e.set("way", shop.OtherWay)
	case kind == "serviced": // the word for the record says what was done
		done, ok := upkeepWords[lower(e.cells[inWhat])]
		if !ok {
			done = shop.Inspected
		}
		e.set("what", done)
	}
	text, err := json.Marshal(e.tree)
	if err == nil {
		e.out.Record.Body, err = shop.Decode(kind, text)
	}
	var many shop.Faults
	var one *shop.Error
	switch {
	case err == nil:
		return
	case errors.As(err, &many):
	case errors.As(err, &one):
		many = shop.Faults{one}
	}
	e.out.Record.Body = nil
	for _, f := range many {
		e.wrong(f.Field, e.out.Heads[f.Field], f.What, f.Advice)
	}
}
