// Package fact holds what crosses a floor instead of a sentence: a code, and the
// typed facts that its wording is filled with. No text for people is made here;
// package say at the edge has one line a code and language.
package fact

import (
	"strings"
	"time"
	"unicode"

	"hopperful/figure"
	"hopperful/quantity"
)

// Saying is one thing to say: what, as a code of the catalogue
// ("next.mill_holds"), and the facts it rests on.
type Saying struct {
	Code  string
	Facts []Fact
}

// Say makes a saying. The code is written out where it is called, each fact
// under the name that the wording uses for it; a test reads the calls and holds
// them against the catalogue.
func Say(code string, facts ...Fact) Saying { return Saying{code, facts} }

// Empty reports whether there is nothing to say.
func (s Saying) Empty() bool { return s.Code == "" }

// Fact returns the fact of that name.
func (s Saying) Fact(name string) (Fact, bool) {
	for _, f := range s.Facts {
		if f.Name == name {
			return f, true
		}
	}
	return Fact{}, false
}

// Text is the text of the name or lot that the saying carries under that name,
// "" when there is none.
func (s Saying) Text(name string) string {
	f, _ := s.Fact(name)
	return f.Text
}

// Sort says what kind of fact it is.
type Sort string

// The sorts.
const (
	IsFigure   Sort = "figure"   // an explained number
	IsQuantity Sort = "quantity" // a number of a kind
	IsCount    Sort = "count"    // how many; decides the plural form
	IsLot      Sort = "lot"      // a lot's label, and its name
	IsName     Sort = "name"     // what people called something: never translated
	IsTime     Sort = "time"     // a moment
	IsParts    Sort = "parts"    // sayings of their own, joined as a sentence joins
)

// Style is how many digits a quantity shows.
type Style int

// The styles: see the methods of quantity.Kind.
const (
	Plain Style = iota // chosen numbers
	Shown              // measured numbers
	Rough              // forecasts
	Whole              // numbers whose every digit counts
	Scale              // masses as a scale shows them
	Bare               // measured numbers without idle zeros
)

// Fact is one typed value under the name a wording has for it.
type Fact struct {
	Name   string
	Sort   Sort
	Figure *figure.Figure
	Kind   quantity.Kind
	Style  Style
	Value  float64 // SI; of a count the number
	Text   string  // a name, or a lot's label
	Called string  // a lot's name; may be empty
	Time   time.Time
	Parts  []Saying
}

// Figure is an explained number.
func Figure(name string, f figure.Figure) Fact { return Fact{Name: name, Sort: IsFigure, Figure: &f} }

// Set is a number that was chosen or typed.
func Set(name string, kind quantity.Kind, si float64) Fact {
	return Fact{Name: name, Sort: IsQuantity, Kind: kind, Value: si}
}

// Measured is a number as an instrument showed it.
func Measured(name string, kind quantity.Kind, si float64) Fact {
	return Fact{Name: name, Sort: IsQuantity, Kind: kind, Style: Shown, Value: si}
}

// Weighed is a mass as a scale shows it.
func Weighed(name string, kg float64) Fact {
	return Fact{Name: name, Sort: IsQuantity, Kind: quantity.Mass, Style: Scale, Value: kg}
}

// Read is a number read off an instrument, without the zeros nobody read.
func Read(name string, kind quantity.Kind, si float64) Fact {
	return Fact{Name: name, Sort: IsQuantity, Kind: kind, Style: Bare, Value: si}
}

// About is a forecast or another rough number.
func About(name string, kind quantity.Kind, si float64) Fact {
	return Fact{Name: name, Sort: IsQuantity, Kind: kind, Style: Rough, Value: si}
}

// Exactly is a number with all its digits, such as a density that is mixed to.
func Exactly(name string, kind quantity.Kind, si float64) Fact {
	return Fact{Name: name, Sort: IsQuantity, Kind: kind, Style: Whole, Value: si}
}

// Count is how many; the first one of a saying decides its plural form.
func Count(name string, n int) Fact {
	return Fact{Name: name, Sort: IsCount, Kind: quantity.Count, Value: float64(n)}
}

// Lot is a lot by its label and, where it has one, its name.
func Lot(name, label, called string) Fact {
	return Fact{Name: name, Sort: IsLot, Text: label, Called: called}
}

// Name is what people called something; empty where nobody did.
func Name(name, text string) Fact { return Fact{Name: name, Sort: IsName, Text: text} }

// Either are names of which one is meant.
func Either(name string, texts []string) Fact {
	f := Names(name, texts)
	f.Called = "list.or"
	return f
}

// Moment is a point in time.
func Moment(name string, at time.Time) Fact { return Fact{Name: name, Sort: IsTime, Time: at} }

// Word is a term of the catalogue, such as a verdict.
func Word(name, code string) Fact { return Parts(name, Saying{Code: code}) }

// Term is the word for one value of a scale: the line of the scale and the value,
// so that a type's values need no table of codes.
func Term(name, scale, value string) Fact { return Word(name, TermCode(scale, value)) }

// TermCode is the code of that line: what is neither letter nor digit becomes a low
// line.
func TermCode(scale, value string) string {
	return scale + "." + strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return '_'
	}, value)
}

// Parts are sayings inside a saying: clauses, or the items of a list.
func Parts(name string, parts ...Saying) Fact {
	return Fact{Name: name, Sort: IsParts, Parts: parts}
}

// Names are several names as one list.
func Names(name string, texts []string) Fact {
	f := Fact{Name: name, Sort: IsParts}
	for _, t := range texts {
		f.Parts = append(f.Parts, Verbatim(t))
	}
	return f
}

// Verbatim says a text as it is: a name in a list, or the sentence of a room that
// has not been converted yet.
func Verbatim(text string) Saying { return Say("verbatim", Name("text", text)) }

// As is the fact under another name.
func (f Fact) As(name string) Fact {
	f.Name = name
	return f
}
