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

// Every answer keeps to the terminal: its width, and unless all is asked for its height, in
// both languages, in a shop that knows everything and in one that knows next to nothing.
func TestAnswersFitTheTerminal(t *testing.T) {
	t.Parallel()
	known, rough := t.TempDir(), t.TempDir()
	if err := settle(known); err != nil {
		t.Fatal(err)
	}
	begin(t, rough)
	for _, command := range documents {
		fitsTerminal(t, known, command)
	}
	for _, command := range roughly {
		fitsTerminal(t, rough, command)
	}
}

// begin makes a new shop with three rough records, much unknown and one slip: a product of
// ten times what can have come out.
func begin(t *testing.T, folder string) {
	t.Helper()
	for _, words := range []string{
		"machines set mill --name Howler --rated 2kW --chamber 1l",
		"take-in 1.2kg --polymer pla --colour black",
		"take-in 800g",
		"record ground --mill Howler --from S1 --charge 90g --run 2min --product 700g",
		"record ground --mill Howler --from S1 --charge 90g --run 2min --product 70g",
	} {
		if _, errs, code := answerOf(folder, split(words)); code != exitDone {
			t.Fatalf("%s: %s", words, errs)
		}
	}
}

// fitsTerminal reads one answer in every way a terminal shows it.
func fitsTerminal(t *testing.T, folder, command string) {
	t.Helper()
	var h heard
	for i, a := range everyWay {
		var out, errs string
		var code int
		if i == 0 {
			h, out, errs, code = hear(folder, command, a)
		} else {
			out, errs, code = h.read(a)
		}
		if code != exitDone {
			t.Errorf("%s: %s", command, errs)
			return
		}
		lines := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
		if !a.full && a.columns == 80 && len(lines) > mostLines {
			t.Errorf("%s in %s takes %d lines:\n%s", command, a.lang, len(lines), out)
		}
		for _, l := range lines {
			if utf8.RuneCountInString(l) > a.columns && strings.Contains(strings.TrimSpace(l), " ") {
				t.Errorf("%s in %s at %d columns: %q", command, a.lang, a.columns, l)
			}
		}
	}
}

// everyWay is how terminals show an answer.
var everyWay = func() (all []asked) {
	for _, lang := range []string{"en", "de"} {
		for _, columns := range []int{80, 48} {
			for _, full := range []bool{false, true} {
				all = append(all, asked{lang, columns, full})
			}
		}
	}
	return all
}()

// roughly are questions a beginner asks a new shop.
var roughly = []string{
	"next", "stock", "stock R1", "machines", "records", "learn", "upkeep", "books", "dose", "need 240g --polymer PLA",
	"plan 240g --polymer PLA --draws 20", "blend 240g --polymer PLA", "fit R1 240g --draws 20", "dry R1 --draws 20", "age R1", "colour R1", "trace R1",
	"materials PLA", "identify --lot S2",
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

// documents are commands that answer a question.
var documents = []string{
	"stock", "stock R1", "machines", "materials", "materials PLA", "records", "campaign", "reckon",
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
		printDocument(&Env{Out: &out, Getenv: func(string) string { return "" }}, p, d, whole)
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
