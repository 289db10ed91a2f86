package rules

import (
	"encoding/json"
	"fmt"
	"go/ast"
	"go/token"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"text/template/parse"

	"golang.org/x/text/language"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/polymer"
	"hopperful/shop"
)

// lines are the wordings of a code by language, each with its plural forms.
type lines map[string]map[string][]string

// catalogue reads every file of words.
var catalogue = sync.OnceValues(func() (lines, error) {
	names, err := filepath.Glob(filepath.Join(root, "internal", "say", "words", "*.json"))
	if err != nil {
		return nil, err
	}
	all := lines{}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		var file map[string]any
		if err := json.Unmarshal(text, &file); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		parts := strings.Split(filepath.Base(name), ".")
		for code, line := range file {
			if all[code] == nil {
				all[code] = map[string][]string{}
			}
			switch line := line.(type) {
			case string:
				all[code][parts[1]] = []string{line}
			case map[string]any:
				for _, form := range line {
					all[code][parts[1]] = append(all[code][parts[1]], fmt.Sprint(form))
				}
			}
		}
	}
	return all, nil
})

func wordsOf(t *testing.T) lines {
	t.Helper()
	all, err := catalogue()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// placeholders are the facts a line asks for.
func placeholders(line string) ([]string, error) {
	trees, err := parse.Parse("line", line, "", "", map[string]any{"capital": say.Capital, "eq": 0, "and": 0, "or": 0, "not": 0})
	if err != nil {
		return nil, err
	}
	var names []string
	var walkNode func(parse.Node)
	walkNode = func(n parse.Node) {
		switch n := n.(type) {
		case *parse.ListNode:
			if n != nil {
				for _, x := range n.Nodes {
					walkNode(x)
				}
			}
		case *parse.ActionNode:
			walkNode(n.Pipe)
		case *parse.PipeNode:
			for _, c := range n.Cmds {
				for _, a := range c.Args {
					walkNode(a)
				}
			}
		case *parse.IfNode:
			walkNode(n.Pipe)
			walkNode(n.List)
			walkNode(n.ElseList)
		case *parse.FieldNode:
			names = append(names, n.Ident[0])
		}
	}
	for _, tree := range trees {
		walkNode(tree.Root)
	}
	return names, nil
}

// saying is a call that makes one, as it is written in the source.
type saying struct {
	at    string
	code  string
	facts []string
	open  bool // facts that cannot be read off the call
}

// sayings finds the calls of fact.Say and of a printer's Line, and what cannot be
// read: a code that is not written out.
func sayings(f goFile) (found []saying, bad []string) {
	ast.Inspect(f.ast, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok || len(call.Args) == 0 {
			return true
		}
		sel, ok := call.Fun.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		id, plain := sel.X.(*ast.Ident)
		isSay := plain && id.Name == "fact" && sel.Sel.Name == "Say"
		if !isSay && sel.Sel.Name != "Line" {
			return true
		}
		code, ok := literal(call.Args[0])
		if !ok {
			if isSay {
				bad = append(bad, f.at(call.Pos())+": the code is not written out, so that nobody can find its wording")
			}
			return true
		}
		s := saying{at: f.at(call.Pos()), code: code, open: call.Ellipsis != token.NoPos}
		for _, a := range call.Args[1:] {
			name, ok := factName(a)
			if !ok {
				s.open = true
			}
			s.facts = append(s.facts, name)
		}
		found = append(found, s)
		return true
	})
	return found, bad
}

func literal(e ast.Expr) (string, bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

// factName is the name of a fact made by a call whose first word it is.
func factName(e ast.Expr) (string, bool) {
	call, ok := e.(*ast.CallExpr)
	if !ok || len(call.Args) == 0 {
		return "", false
	}
	return literal(call.Args[0])
}

// wordViolations holds one saying against the catalogue.
func wordViolations(all lines, s saying) (bad []string) {
	for _, lang := range say.Languages() {
		forms := all[s.code][lang]
		if len(forms) == 0 {
			bad = append(bad, fmt.Sprintf("%s: %q has no line in %s", s.at, s.code, lang))
		}
		for _, form := range forms {
			names, err := placeholders(form)
			if err != nil {
				bad = append(bad, fmt.Sprintf("%s (%s): %v", s.code, lang, err))
			}
			for _, n := range names {
				if !s.open && !slices.Contains(s.facts, n) {
					bad = append(bad, fmt.Sprintf("%s: the line of %q in %s asks for %q, which is no fact of it", s.at, s.code, lang, n))
				}
			}
		}
	}
	return bad
}

// Each code has a line in every language, and each placeholder is a fact.
func TestEverySayingHasItsLines(t *testing.T) {
	t.Parallel()
	all := wordsOf(t)
	for _, f := range tree(t) {
		if f.test || under(f.dir, "fact") || under(f.dir, "internal/say") {
			continue
		}
		found, bad := sayings(f)
		report(t, bad)
		for _, s := range found {
			report(t, wordViolations(all, s))
		}
	}
	for code, by := range all {
		for _, lang := range say.Languages() {
			if len(by[lang]) == 0 {
				t.Errorf("%q has no line in %s", code, lang)
			}
		}
		for lang := range by {
			if _, err := language.Parse(lang); err != nil || !slices.Contains(say.Languages(), lang) {
				t.Errorf("%q has a line in %q, which is no language here", code, lang)
			}
		}
	}
}

var (
	sayInPage  = regexp.MustCompile(`say "([a-z0-9_.]+)"((?: "[a-z_0-9]+" (?:\([^()]*\)|[^\s(){}]+))*)`)
	givenFacts = regexp.MustCompile(` "([a-z_0-9]+)" (?:\([^()]*\)|[^\s(){}]+)`)
)

// spokenViolations holds the lines a page says against the catalogue: a line gets all it
// asks for, and nothing it does not show.
func spokenViolations(all lines, page, text string) (bad []string) {
	for _, m := range sayInPage.FindAllStringSubmatch(text, -1) {
		s, asked := saying{at: page, code: m[1]}, []string{}
		for _, g := range givenFacts.FindAllStringSubmatch(m[2], -1) {
			s.facts = append(s.facts, g[1])
		}
		bad = append(bad, wordViolations(all, s)...)
		for _, forms := range all[s.code] {
			for _, form := range forms {
				names, _ := placeholders(form) // a fault of it is told above
				asked = append(asked, names...)
			}
		}
		for _, name := range s.facts {
			if !slices.Contains(asked, name) {
				bad = append(bad, fmt.Sprintf("%s: no line of %q shows its fact %q", page, s.code, name))
			}
		}
	}
	return bad
}

// What a page gives to a line is shown: an amount is not lost where two lines came to
// share a code.
func TestPagesGiveWhatTheirLinesAskFor(t *testing.T) {
	t.Parallel()
	err := walk(func(name string) error {
		if path.Ext(name) != ".html" {
			return nil
		}
		text, err := os.ReadFile(filepath.Join(root, name))
		report(t, spokenViolations(wordsOf(t), name, string(text)))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	all := lines{"a.b": {"en": {"{{.n}} of"}, "de": {"{{.n}}"}}, "a.c": {"en": {"of"}, "de": {"von"}}}
	for page, want := range map[string]string{`{{say "a.b" "n" (num .Sum)}}`: "", `{{say "a.c" "n" .Sum}}`: `shows its fact "n"`, `{{say "a.d"}}`: "no line in"} {
		wantOne(t, slices.CompactFunc(spokenViolations(all, "page", page), func(a, b string) bool { return a[:9] == b[:9] }), want)
	}
	if bad := spokenViolations(all, "page", `{{say "a.b"}}`); len(bad) != len(say.Languages()) {
		t.Errorf("a line without its fact is told %v", bad)
	}
}

// families are the lines whose codes are made of the words of a scale, or stand in
// a table of materials.
func families(t *testing.T) (all []string) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, "polymer", "pairs.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range answer.Verdicts() {
		all = append(all, "verdict."+string(v))
	}
	for _, b := range []figure.Basis{figure.Books, figure.Guessed, figure.Measured, figure.Entered, figure.Assumed, figure.Reckoned, figure.Learned} {
		all = append(all, "basis."+string(b))
	}
	for _, s := range []figure.Side{figure.Below, figure.Over} {
		all = append(all, "side."+string(s))
	}
	for _, b := range shop.Bodies() {
		all = append(all, "kind."+b.Kind())
	}
	for _, name := range polymer.Names() {
		p, err := polymer.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range polymer.Properties() {
			for _, v := range p.All(d.Property) {
				if who := v.Lender(); who != "" {
					all = append(all, fact.TermCode("lent", who))
				}
			}
		}
	}
	for _, m := range shop.Marks() {
		all = append(all, "mark."+string(m))
	}
	for i := range all {
		all[i] = strings.ReplaceAll(all[i], " ", "_")
	}
	return append(all, pairCode.FindAllString(string(text), -1)...)
}

var pairCode = regexp.MustCompile(`pair\.[a-z_]+`)

// wordScales are the lines whose codes end in a word that records hold, such as the
// class of a lot.
var wordScales = []string{"dried_in", "kind", "loss", "lot", "mark", "mill_part", "mishap", "part_sound", "role", "taken_by", "upkeep_did", "yes_no"}

// Each line is said somewhere: its code stands in the source, in a page, or is
// the title of a table, column or section there.
func TestEveryLineIsSaid(t *testing.T) {
	t.Parallel()
	said := map[string]bool{}
	for _, code := range families(t) {
		if said[code] = true; len(wordsOf(t)[code]) == 0 {
			t.Errorf("%q has no line", code)
		}
	}
	keys := map[string]bool{}
	for _, f := range tree(t) {
		if f.test {
			continue
		}
		ast.Inspect(f.ast, func(n ast.Node) bool {
			if e, ok := n.(ast.Expr); ok {
				if text, ok := literal(e); ok {
					text = strings.TrimPrefix(text, ">") // the heading of a column of numbers
					said[text], keys[text] = true, true
				}
			}
			return true
		})
	}
	err := walk(func(name string) error {
		if path.Ext(name) != ".html" {
			return nil
		}
		text, err := os.ReadFile(filepath.Join(root, name))
		for _, m := range sayInPage.FindAllStringSubmatch(string(text), -1) {
			said[m[1]] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	known := []map[string]bool{said, valued(t, keys), tabled(), worn()}
	for code := range wordsOf(t) {
		kind, key, _ := strings.Cut(code, ".")
		if kind == "help" { // internal/cli holds each of these to a command or flag
			continue
		}
		scaled := slices.Contains(wordScales, kind) && (keys[key] || keys[strings.ReplaceAll(key, "_", " ")])
		if !scaled && !keyed(code, keys) && !slices.ContainsFunc(known, func(codes map[string]bool) bool { return codes[code] }) {
			t.Errorf("%q is said nowhere", code)
		}
	}
}

func TestWordRulesCanFail(t *testing.T) {
	t.Parallel()
	all := lines{"a.b": {"en": {"{{.n}} of {{if .x}}{{.x.Range}}{{end}}"}, "de": {"{{.n}} von {{.y}}"}}, "a.c": {"en": {"one"}}}
	for _, c := range []struct{ body, want string }{
		{`fact.Say("a.b", fact.Count("n", 1), fact.Name("x", ""), fact.Name("y", ""))`, ""},
		{`fact.Say("a.b", fact.Count("n", 1), fact.Name("x", ""))`, `in de asks for "y"`},
		{`fact.Say("a.b", fact.Count("n", 1), fact.Name("y", ""))`, `in en asks for "x"`},
		{`fact.Say("a.c")`, "no line in de"},
		{`fact.Say(code)`, "not written out"},
	} {
		f := sample(t, "plan/a.go", "package a\n\nvar _ = "+c.body+"\n")
		found, bad := sayings(f)
		for _, s := range found {
			bad = append(bad, wordViolations(all, s)...)
		}
		if c.want == `in en asks for "x"` {
			bad = slices.Compact(bad)
		}
		wantOne(t, slices.CompactFunc(bad, func(a, b string) bool { return a == b }), c.want)
	}
}

var (
	inBraces  = regexp.MustCompile(`\{\{[^}]*\}\}`)
	lotWord   = regexp.MustCompile(`(?i)\blots?\b`)
	notPosten = regexp.MustCompile(`\b(Chargen?|Loses?|Lose)\b`)
)

// strays are German words for what has another one here.
var strays = map[*regexp.Regexp]string{
	regexp.MustCompile(`\bChargen?\b`): "Füllung", regexp.MustCompile(`[Ss]iebblech`): "Lochblech", regexp.MustCompile(`[Kk]ennwort`): "Passphrase",
}

// One word for one thing, in German too: a charge is a Füllung, not a Charge.
func TestGermanHasOneWordForOneThing(t *testing.T) {
	t.Parallel()
	for code, by := range wordsOf(t) {
		for _, german := range by["de"] {
			for stray, word := range strays {
				if stray.MatchString(german) {
					t.Errorf("%s: the word is %s, not as in %q", code, word, german)
				}
			}
		}
	}
}

// One word for one thing, in German too: a lot is a Posten.
func TestALotIsCalledTheSameThroughout(t *testing.T) {
	t.Parallel()
	for code, by := range wordsOf(t) {
		english := inBraces.ReplaceAllString(strings.Join(by["en"], " "), "")
		for _, german := range by["de"] {
			if lotWord.MatchString(english) && !strings.Contains(english, "charge") && notPosten.MatchString(german) {
				t.Errorf("%s: a lot is a Posten, not %q", code, german)
			}
		}
	}
}

// typedWords are the rooms whose lines stand on a terminal only, or of what is set up there.
var typedWords = []string{"account", "api", "cli", "help", "live", "page", "plausibility", "print", "reckon", "store", "takes", "token", "trust", "usage", "form"}

// commandOrFlag is how a flag or one of the program's commands is written.
func commandOrFlag(all lines) *regexp.Regexp {
	var names []string
	for code := range all {
		if name, ok := strings.CutSuffix(code, ".short"); ok && strings.Count(name, ".") == 1 {
			names = append(names, strings.TrimPrefix(name, "help."))
		}
	}
	return regexp.MustCompile(`(^|[ (])--[a-z]|\bhopperful (` + strings.Join(names, "|") + `)\b`)
}

// What the middle floor says stands on pages too, where nobody types: the command that does
// it is added by the command line.
func TestAnswersNameNoCommand(t *testing.T) {
	t.Parallel()
	command := commandOrFlag(wordsOf(t))
	for code, texts := range wordsOf(t) {
		room, _, _ := strings.Cut(code, ".")
		if slices.Contains(typedWords, room) {
			continue
		}
		for _, text := range texts {
			if m := command.FindString(strings.Join(text, " ")); m != "" {
				t.Errorf("%s says %q: the command line adds what is typed", code, m)
			}
		}
	}
}
