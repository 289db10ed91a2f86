// Package say words what the middle floor found: one catalogue a language, from
// code to wording, with the language's plural forms, decimal sign and units. It
// is the only place where an answer becomes text; the terminal, the pages and
// the JSON all take it from here.
package say

import (
	"embed"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/nicksnyder/go-i18n/v2/i18n"
	"golang.org/x/text/language"

	"hopperful/fact"
	"hopperful/shop"
)

// A file of words is named room.language.json.
//
//go:embed words/*.json
var files embed.FS

// languages are those of the catalogue; the first is taken where nobody asked
// for another.
var languages = []language.Tag{language.English, language.German}

// match finds the language somebody asks for.
var match = language.NewMatcher(languages)

// Languages are the codes of the languages there are: "en", "de".
func Languages() []string {
	var all []string
	for _, t := range languages {
		all = append(all, t.String())
	}
	return all
}

// Printer words sayings in one language.
type Printer struct {
	Language string // "en"
	comma    bool   // decimals have a comma
	minus    bool   // numbers are for eyes: a minus is no hyphen
	words    *lines
}

// For is the printer of the first language asked for that there is, else of the
// first there is. It reads codes ("de"), the terminal's names ("de_DE.UTF-8") and
// what browsers send ("de-AT,de;q=0.9,en;q=0.5"); empty texts ask for nothing.
func For(asked ...string) *Printer {
	tag := languages[0]
	for _, text := range asked {
		if !strings.ContainsAny(text, ",;") { // a terminal's name ends in the set of characters
			text, _, _ = strings.Cut(text, ".")
		}
		tags, _, err := language.ParseAcceptLanguage(strings.ReplaceAll(text, "_", "-"))
		if err != nil || len(tags) == 0 {
			continue
		}
		if _, at, sure := match.Match(tags...); sure > language.No {
			tag = languages[at]
			break
		}
	}
	words, err := spoken[tag]()
	if err != nil {
		panic(err) // the files are part of the program, and a test reads them
	}
	return &Printer{Language: tag.String(), comma: tag == language.German, words: words}
}

// WithComma is the same printer for a shop that writes its decimals with a comma.
func (p *Printer) WithComma() *Printer {
	q := *p
	q.comma = true
	return &q
}

// ForEyes is the same printer where people read the numbers and no program does: below
// zero they have a minus, not a hyphen.
func (p *Printer) ForEyes() *Printer {
	q := *p
	q.minus = true
	return &q
}

// Comma reports whether decimals have a comma.
func (p *Printer) Comma() bool { return p.comma }

// Has reports whether the catalogue has a line for that code.
func (p *Printer) Has(code string) bool { return p.words.raw[code] != "" }

// Codes are the codes of the catalogue that begin so, in order.
func (p *Printer) Codes(begin string) []string {
	var all []string
	for code := range p.words.raw {
		if strings.HasPrefix(code, begin) {
			all = append(all, code)
		}
	}
	slices.Sort(all)
	return all
}

// Say is the wording of a saying; "" of an empty one. A code without a line,
// which a test rules out, is said as it is.
func (p *Printer) Say(s fact.Saying) string {
	if s.Empty() {
		return ""
	}
	line := p.words.line(s.Code)
	config := &i18n.LocalizeConfig{DefaultMessage: line, TemplateData: p.data(s.Facts), TemplateParser: parser}
	if line.One != "" {
		for _, f := range s.Facts {
			if f.Sort == fact.IsCount {
				config.PluralCount = int(f.Value)
				break
			}
		}
	}
	text, err := p.words.local.Localize(config)
	if err != nil {
		if _, name, ok := strings.Cut(s.Code, "argument."); ok { // of a formula, as it is named there
			return strings.ReplaceAll(name, "_", " ")
		}
		return s.Code
	}
	return text
}

// Line is the wording of a code of the edges: a heading, a button.
func (p *Printer) Line(code string, facts ...fact.Fact) string {
	return p.Say(fact.Say(code, facts...))
}

// Refusal words what is wrong and what to do about it.
func (p *Printer) Refusal(e *shop.Error) (what, advice string) {
	return p.Say(e.What), p.Say(e.Advice)
}

// Word is the wording of a text if it is a code of the catalogue, else the text
// as it is: a formula, a name, the words of a room not converted yet.
func (p *Printer) Word(text string, facts ...fact.Fact) string {
	if !p.Has(text) {
		return text
	}
	return p.Line(text, facts...)
}

// All words several sayings.
func (p *Printer) All(sayings []fact.Saying) []string {
	var all []string
	for _, s := range sayings {
		if text := p.Say(s); text != "" {
			all = append(all, text)
		}
	}
	return all
}

// Capital starts a text with a capital letter; lines may use it too.
func Capital(text any) string {
	s := fmt.Sprint(text)
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
