package shop

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
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

// sound checks every number of a body against its band, every text against its
// length, and every choice against its list.
func sound(b Body) error {
	v := reflect.ValueOf(b).Elem()
	return soundStruct("", v.Type().Name(), v)
}

func soundStruct(path, owner string, v reflect.Value) error {
	t := v.Type()
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		most := mostName
		if n, err := strconv.Atoi(f.Tag.Get("text")); err == nil {
			most = n
		}
		if err := soundValue(path+name, owner, name, most, v.Field(i)); err != nil {
			return err
		}
	}
	return nil
}

func soundValue(path, owner, name string, most int, v reflect.Value) error {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return nil
		}
		return soundValue(path, owner, name, most, v.Elem())
	case reflect.Struct:
		return soundStruct(path+".", v.Type().Name(), v)
	case reflect.Slice:
		if v.Len() > mostParts {
			return invalid(path, fmt.Sprintf("%d entries are more than the %d one record holds.", v.Len(), mostParts), "Write it down in several records.")
		}
		for i := range v.Len() {
			if err := soundValue(fmt.Sprintf("%s.%d", path, i), owner, name, most, v.Index(i)); err != nil {
				return err
			}
		}
	case reflect.String:
		if err := soundChoice(path, v.Interface()); err != nil {
			return err
		}
		return soundText(path, v.String(), most)
	case reflect.Float64:
		return soundNumber(path, owner, name, v.Float())
	case reflect.Int:
		return soundNumber(path, owner, name, float64(v.Int()))
	}
	return nil
}

func soundNumber(path, owner, name string, x float64) error {
	b, ok := bands[owner+"."+name]
	if !ok {
		b, ok = bands[name]
	}
	switch {
	case !ok:
		return invalid(path, "The number "+name+" has no band.", "This is a fault of the program; please report it.")
	case math.IsNaN(x) || math.IsInf(x, 0):
		return invalid(path, "The "+b.words+" is not a number.", "Type it again.")
	case x < b.lo || x > b.hi:
		return b.refuse(path, x)
	}
	return nil
}

func soundChoice(path string, value any) error {
	switch c := value.(type) {
	case YesNo:
		if c != Yes && c != No && c != Unknown {
			return invalid(path, strconv.Quote(clip(string(c)))+" is neither yes nor no.", "Leave it empty when it is not known.")
		}
	case Place:
		if c != NoThermometer && c != OuterWall && c != InCharge {
			return invalid(path, strconv.Quote(clip(string(c)))+" is no place for the thermometer.", "It is the outer wall, in the charge, or empty.")
		}
	case Class:
		if letters[c] == 0 {
			return invalid(path, strconv.Quote(clip(string(c)))+" is no class of lot.", "It is scrap, regrind, virgin, blend or print.")
		}
	}
	return nil
}

func soundText(path, text string, most int) error {
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
