package say

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"strings"
	"sync"
	"text/template"

	"github.com/nicksnyder/go-i18n/v2/i18n"
	i18ntemplate "github.com/nicksnyder/go-i18n/v2/i18n/template"
	"golang.org/x/text/language"
)

// Every command begins with the words, and says few of them. So a language's files are
// only cut into lines, and only when that language is spoken; a line is read when it is
// first said, and the template in it is parsed once.

// lines are the words of one language.
type lines struct {
	raw   map[string]string // by code, as the file has it: JSON
	read  sync.Map          // by code: the *i18n.Message of it
	local *i18n.Localizer
}

// spoken are the lines of each language.
var spoken = func() map[language.Tag]func() (*lines, error) {
	all := map[language.Tag]func() (*lines, error){}
	for _, tag := range languages {
		all[tag] = sync.OnceValues(func() (*lines, error) { return linesOf(tag) })
	}
	return all
}()

func linesOf(tag language.Tag) (*lines, error) {
	l := &lines{raw: map[string]string{}, local: i18n.NewLocalizer(i18n.NewBundle(tag), tag.String())}
	names, err := fs.Glob(files, "words/*."+tag.String()+".json")
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		text, err := files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		if err := cut(string(text), l.raw); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return l, nil
}

// line is the line of a code. That of a code without one is empty, and cannot be said.
func (l *lines) line(code string) *i18n.Message {
	if m, ok := l.read.Load(code); ok {
		return m.(*i18n.Message)
	}
	m := &i18n.Message{ID: code}
	raw := l.raw[code]
	if strings.HasPrefix(raw, "{") { // plural forms
		var forms struct{ One, Other string }
		if json.Unmarshal([]byte(raw), &forms) == nil {
			m.One, m.Other = forms.One, forms.Other
		}
	} else if json.Unmarshal([]byte(raw), &m.Other) != nil {
		m.Other = ""
	}
	if raw != "" { // what somebody else asks for is without end
		l.read.Store(code, m)
	}
	return m
}

// cut parts a file of words into its lines without reading them: {"code": "words",
// "code": {"one": "words", "other": "words"}}.
func cut(text string, into map[string]string) error {
	rest, ok := strings.CutPrefix(strings.TrimSpace(text), "{")
	for ok {
		var code, value string
		if code, rest, ok = quoted(strings.TrimSpace(rest)); !ok || strings.Contains(code, `\`) {
			break
		}
		if rest, ok = strings.CutPrefix(strings.TrimSpace(rest), ":"); !ok {
			break
		}
		if value, rest, ok = valueOf(strings.TrimSpace(rest)); !ok {
			break
		}
		code = code[1 : len(code)-1]
		if into[code] != "" {
			return fmt.Errorf("%s has a line already", code)
		}
		into[code] = value
		if rest = strings.TrimSpace(rest); rest == "}" {
			return nil
		}
		rest, ok = strings.CutPrefix(rest, ",")
	}
	return fmt.Errorf("cannot be read after %.60q", text[:len(text)-len(rest)][max(0, len(text)-len(rest)-60):])
}

// valueOf cuts off what a text begins with: a text in quotes, or forms in braces.
func valueOf(text string) (value, rest string, ok bool) {
	if !strings.HasPrefix(text, "{") {
		return quoted(text)
	}
	for rest = text[1:]; ; {
		at := strings.IndexAny(rest, `"}`)
		if at < 0 {
			return "", text, false
		}
		if rest[at] == '}' {
			rest = rest[at+1:]
			return text[:len(text)-len(rest)], rest, true
		}
		if _, rest, ok = quoted(rest[at:]); !ok {
			return "", text, false
		}
	}
}

// quoted cuts off the text in quotes that a text begins with, quotes and all.
func quoted(text string) (value, rest string, ok bool) {
	if !strings.HasPrefix(text, `"`) {
		return "", text, false
	}
	for end := 1; ; end++ {
		at := strings.IndexByte(text[end:], '"')
		if at < 0 {
			return "", text, false
		}
		end += at
		before := text[1:end]
		if slashes := len(before) - len(strings.TrimRight(before, `\`)); slashes%2 == 0 {
			return text[:end+1], text[end+1:], true
		}
	}
}

// parser parses the template of each line once, for all that say it.
var parser = &kept{plain: i18ntemplate.TextParser{Funcs: template.FuncMap{"capital": Capital}}}

type kept struct {
	plain  i18ntemplate.TextParser
	parsed sync.Map // by source: the i18ntemplate.ParsedTemplate of it
}

// Cacheable says whether who asks shall keep what is parsed: it does not outlive the line.
func (k *kept) Cacheable() bool { return false }

// Parse gives the template of a source.
func (k *kept) Parse(source, left, right string) (i18ntemplate.ParsedTemplate, error) {
	if t, ok := k.parsed.Load(source); ok {
		return t.(i18ntemplate.ParsedTemplate), nil
	}
	t, err := k.plain.Parse(source, left, right)
	if err == nil {
		k.parsed.Store(source, t)
	}
	return t, err
}
