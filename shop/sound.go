package shop

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"hopperful/fact"
	table "hopperful/shop/fields"
)

// Bounds of what a record may hold. Judgement: far above any workshop's use,
// and small enough that a record always fits a page.
const (
	mostName  = 80   // characters of a name
	mostNote  = 2000 // characters of a note
	mostParts = 100  // entries of a list
)

// early and ahead bound when a record may have happened: not before anybody
// ground prints, and not later than a clock may be wrong.
var early = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

const ahead = 5 * time.Minute

// soundRecord checks what all records have in common.
func soundRecord(r Record) error {
	if err := soundText("by", r.By, mostName); err != nil {
		return err
	}
	if err := soundText("note", r.Note, mostNote); err != nil {
		return err
	}
	if r.At.IsZero() {
		return invalid("at", fact.Say("shop.record_without_date"), fact.Say("shop.do_say_when"))
	}
	if r.At.Before(early) {
		return invalid("at", fact.Say("shop.date_too_early", fact.Name("at", day(r.At))), fact.Say("shop.check_the_year"))
	}
	return nil
}

func notFuture(at, now time.Time) error {
	if !at.After(now.Add(ahead)) {
		return nil
	}
	return invalid("at", fact.Say("shop.date_in_future", fact.Name("at", minute(at)), fact.Name("location", minute(now.In(at.Location())))),
		fact.Say("shop.do_say_when_or_now"))
}

// field is what sound knows of a field of a record, ahead of any value.
type field struct {
	name  string // in JSON
	most  int    // characters, if it is a text
	band  *band  // if it is a number
	asked bool   // the band is from the table of fields
}

// fields holds every struct a body is made of.
var fields = func() map[reflect.Type][]field {
	all := map[reflect.Type][]field{}
	for _, b := range Bodies() {
		addFields(all, reflect.TypeOf(b).Elem(), b.Kind(), "")
	}
	return all
}()

// addFields takes the bounds of a number from the table of fields where its record
// has moved there, else from bands.
func addFields(all map[reflect.Type][]field, t reflect.Type, kind, under string) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || all[t] != nil {
		return
	}
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		plan := field{name: name, most: mostName}
		if n, err := strconv.Atoi(f.Tag.Get("text")); err == nil {
			plan.most = n
		}
		if f, ok := table.Find(kind, under+name); ok && f.Numeric() {
			plan.band, plan.asked = &band{f.Words, f.Kind, f.Lo, f.Hi}, true
		} else if b, ok := bands[t.Name()+"."+name]; ok {
			plan.band = &b
		} else if b, ok := bands[name]; ok {
			plan.band = &b
		}
		all[t] = append(all[t], plan)
		addFields(all, f.Type, kind, under+name+".")
	}
}

// sound checks every number of a body against its band, every text against its
// length, and every choice against its list. All that is wrong is told at once.
func sound(b Body) error {
	switch all := soundStruct(reflect.ValueOf(b).Elem()); len(all) {
	case 0:
		return nil
	case 1:
		return all[0]
	default:
		return all
	}
}

// Sound says what is wrong with the numbers, texts and choices of a body by
// themselves: nil, an *[Error], or [Faults].
func Sound(b Body) error { return sound(b) }

func soundStruct(v reflect.Value) (all Faults) {
	for i, f := range fields[v.Type()] {
		all = append(all, under(f.name, soundValue(f, v.Field(i)))...)
	}
	return all
}

// under puts a step before the fields that faults name.
func under(step string, all Faults) Faults {
	for _, e := range all {
		e.Field = strings.TrimSuffix(step+"."+e.Field, ".")
	}
	return all
}

// one is the fault as a list, nothing when there is none.
func one(e *Error) Faults {
	if e == nil {
		return nil
	}
	return Faults{e}
}

// soundValue checks one value; the fields that faults name are relative to it.
func soundValue(f field, v reflect.Value) Faults {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil
		}
		return soundValue(f, v.Elem())
	case reflect.Struct:
		return soundStruct(v)
	case reflect.Slice:
		return soundList(f, v)
	case reflect.String:
		if err := soundChoice(v); err != nil {
			return one(err)
		}
		return one(soundText("", v.String(), f.most))
	case reflect.Float64:
		return one(soundNumber(f, v.Float()))
	case reflect.Int, reflect.Int64:
		return one(soundNumber(f, float64(v.Int())))
	}
	return nil
}

func soundList(f field, v reflect.Value) (all Faults) {
	if v.Len() > mostParts {
		return one(invalid("", fact.Say("shop.too_many_entries", fact.Count("len", v.Len()), fact.Count("most_parts", mostParts)), fact.Say("shop.do_several_records")))
	}
	for i := range v.Len() {
		all = append(all, under(strconv.Itoa(i), soundValue(f, v.Index(i)))...)
	}
	return all
}

func soundNumber(f field, x float64) *Error {
	b := f.band
	switch {
	case b == nil: // a test asks that this never happens
		return invalid("", fact.Say("shop.no_band", fact.Name("name", f.name)), fact.Say("shop.do_report_fault"))
	case math.IsNaN(x) || math.IsInf(x, 0):
		return invalid("", fact.Say("shop.no_number", fact.Word("what", b.words)), fact.Say("shop.type_it_again"))
	case x < b.lo || x > b.hi:
		return b.refuse(x)
	}
	return nil
}

func soundChoice(v reflect.Value) *Error {
	c, ok := choices[v.Type()]
	if !ok || slices.Contains(c.list, v.String()) {
		return nil
	}
	return invalid("", fact.Say("shop.not_among", fact.Name("word", clip(v.String())), fact.Parts("what", c.say)), c.hint)
}

func soundText(path, text string, most int) *Error {
	if !utf8.ValidString(text) {
		return invalid(path, fact.Say("shop.text_unreadable"), fact.Say("shop.type_it_again"))
	}
	if n := utf8.RuneCountInString(text); n > most {
		return invalid(path, fact.Say("shop.text_too_long", fact.Count("n", n), fact.Count("most", most)), fact.Say("shop.shorten_it"))
	}
	for _, c := range text {
		if unicode.IsControl(c) && (most < mostNote || c != '\n' && c != '\r' && c != '\t') {
			return invalid(path, fact.Say("shop.text_control_character", fact.Name("c", fmt.Sprintf("%U", c))), fact.Say("shop.do_type_again"))
		}
	}
	if text != "" && most < mostNote && strings.TrimSpace(text) != text {
		return invalid(path, fact.Say("shop.space_at_end", fact.Name("text", clip(text))), fact.Say("shop.do_no_space"))
	}
	return nil
}

func day(t time.Time) string    { return t.Format("2006-01-02") }
func minute(t time.Time) string { return t.Format("2006-01-02 15:04") }
