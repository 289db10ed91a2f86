package cli

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"hopperful/internal/say"
	"hopperful/internal/say/saytest"
)

// mostLines is how long an answer may be on a terminal of 80 columns before
// someone asks for more.
const mostLines = 45

// Every answer that is a document keeps to the terminal: its width, and unless
// all is asked for its height, in both languages.
func TestAnswersFitTheTerminal(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if err := settle(folder); err != nil {
		t.Fatal(err)
	}
	for _, command := range documents {
		for _, lang := range []string{"en", "de"} {
			for _, width := range []string{"80", "48"} {
				for _, full := range []string{"", " --full"} {
					asked := command + " --lang " + lang + full
					out, errs, code := answerWith(folder, map[string]string{"COLUMNS": width}, split(asked))
					if code != exitDone {
						t.Errorf("%s: %s", asked, errs)
						continue
					}
					lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
					if full == "" && width == "80" && len(lines) > mostLines {
						t.Errorf("%s takes %d lines:\n%s", asked, len(lines), out)
					}
					most := 80
					if width == "48" {
						most = 48
					}
					for _, l := range lines {
						if utf8.RuneCountInString(l) > most && strings.Contains(strings.TrimSpace(l), " ") {
							t.Errorf("%s at %s columns: %q", asked, width, l)
						}
					}
				}
			}
		}
	}
}

// The plan is an answer like the others; it takes long, and is asked once.
func TestThePlanFitsTheTerminal(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if err := settle(folder); err != nil {
		t.Fatal(err)
	}
	out, errs, code := answerWith(folder, map[string]string{"COLUMNS": "80"}, split("plan 240g --polymer PETG --colour clear --draws 40"))
	lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
	if code != exitDone || len(lines) > mostLines || !strings.Contains(out, "in nine of ten cases") {
		t.Errorf("%d lines, %s\n%s", len(lines), errs, out)
	}
	for _, l := range lines {
		if utf8.RuneCountInString(l) > 80 {
			t.Errorf("%q", l)
		}
	}
}

// documents are the commands whose answer is one.
var documents = []string{
	"next",
	"now",
	"learn",
	"blend 150g --polymer PLA",
	"blend 150g --polymer PLA --why-not V1",
	"blend 3kg --polymer PETG",
	"blend 100g --polymer PC",
	"learn --mill Grumble",
	"upkeep",
	"books --month 2026-11",
	"dose",
	"sensors",
	"sensors learn --mill Rattle",
	"dose --more 40min --floor 12m2",
	"upkeep --mill Grumble",
	"grains R1 a.jpg --mass 0.4g",
	"reckon drying --material PETG",
	"reckon scrap-colour --wanted #c8c8c0",
	"reckon loop --water 0.1%",
	"need",
	"need vase.gcode wedge.stl --polymer PLA",
	"need wedge.stl",
	"sieve R1",
	"age R1",
	"colour B1",
	"colour S3",
	"trace R1",
	"fit R1 120g --draws 20",
	"fit R3 vase.gcode --draws 20",
	"dry R1 --draws 20",
	"dry --polymer PETG --way dry-air --draws 20",
	"dry R1 --way oven --draws 20",
	"identify --lot S7",
	"identify --limp70 no --acetone no --snaps no",
	"identify --chlorine yes",
	"identify liquid sugar 1.25g/cm3",
	"identify mixed --host PLA --stray PETG --pieces 60 --wrong 3",
}

// Every step that the catalogue words can be done on the command line.
func TestEveryStepHasItsCommand(t *testing.T) {
	t.Parallel()
	for _, code := range slices.Sorted(maps.Keys(commands)) {
		if !say.For().Has(code) {
			t.Errorf("%q has a command and no wording", code)
		}
	}
	for _, code := range say.For().Codes("do.") {
		if commands[code] == "" {
			t.Errorf("%q has no command", code)
		}
	}
}

// The terminal holds everything an answer says; a page is held to the same list.
func TestTheTerminalShowsAllOfAnAnswer(t *testing.T) {
	t.Parallel()
	for _, lang := range say.Languages() {
		p := say.For(lang)
		d := p.Document(saytest.Whole())
		var out bytes.Buffer
		printDocument(&Env{Out: &out, Getenv: func(string) string { return "" }}, p, d, true)
		texts, err := saytest.Texts(d)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range texts {
			if !strings.Contains(out.String(), p.Number(x)) {
				t.Errorf("%s: %q is missing in\n%s", lang, x, out.String())
			}
		}
	}
}

func TestLinesWrapUnderTheirBeginning(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		line  string
		width int
		want  string
	}{
		{"short", 10, "short"},
		{"never broken in a pipe", 0, "never broken in a pipe"},
		{"one two three", 8, "one two\nthree"},
		{"  one two three", 10, "  one two\n  three"},
		{" 12. one two three", 13, " 12. one two\n     three"},
		{"weigh 12.5 kg now", 11, "weigh\n12.5 kg now"},
		{"it spans 0.0–1.0 %, so", 15, "it spans\n0.0–1.0 %, so"},
		{"\x1b[1mone\x1b[0m two", 7, "\x1b[1mone\x1b[0m two"},
		{"averylongwordthatfitsnowhere x", 10, "averylongwordthatfitsnowhere\nx"},
	} {
		if got := wrap(c.line, c.width); got != c.want {
			t.Errorf("%q at %d: got %q, want %q", c.line, c.width, got, c.want)
		}
	}
}
