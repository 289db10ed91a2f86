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
		return invalid("at", "The record has no date.", "Say when it happened.")
	}
	if r.At.Before(early) {
		return invalid("at", "The date "+day(r.At)+" is before the year 2000.", "Check the year.")
	}
	return nil
}

func notFuture(at, now time.Time) error {
	if !at.After(now.Add(ahead)) {
		return nil
	}
	return invalid("at", "The date "+minute(at)+" is in the future; it is "+minute(now.In(at.Location()))+" now.",
		"Say when it happened, or leave the date empty for now.")
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
		return one(invalid("", fmt.Sprintf("%d entries are more than the %d one record holds.", v.Len(), mostParts), "Write it down in several records."))
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
		return invalid("", "The number "+f.name+" has no band.", "This is a fault of the program; please report it.")
	case math.IsNaN(x) || math.IsInf(x, 0):
		return invalid("", "The "+b.words+" is not a number.", "Type it again.")
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
	return invalid("", strconv.Quote(clip(v.String()))+" "+c.say, c.hint)
}

func soundText(path, text string, most int) *Error {
	if !utf8.ValidString(text) {
		return invalid(path, "The text is not readable.", "Type it again.")
	}
	if n := utf8.RuneCountInString(text); n > most {
		return invalid(path, fmt.Sprintf("The text has %d characters; %d fit.", n, most), "Shorten it.")
	}
	for _, c := range text {
		if unicode.IsControl(c) && (most < mostNote || c != '\n' && c != '\r' && c != '\t') {
			return invalid(path, fmt.Sprintf("The text holds a control character (%U).", c), "Type it again; pasted text may carry such.")
		}
	}
	if text != "" && most < mostNote && strings.TrimSpace(text) != text {
		return invalid(path, "The text "+strconv.Quote(clip(text))+" begins or ends with a space.", "Leave the space out.")
	}
	return nil
}

func day(t time.Time) string    { return t.Format("2006-01-02") }
func minute(t time.Time) string { return t.Format("2006-01-02 15:04") }
