package say_test

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/internal/say"
	"hopperful/quantity"
)

// Codes, what terminals set and what browsers send (RFC 9110, section 12.5.4).
func TestTheLanguageIsTheFirstThereIs(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		asked []string
		want  string
	}{
		{nil, "en"}, {[]string{"", ""}, "en"}, {[]string{"de"}, "de"}, {[]string{"de_AT.UTF-8"}, "de"}, {[]string{"C"}, "en"}, {[]string{"POSIX"}, "en"},
		{[]string{"fr-FR,fr;q=0.9"}, "en"}, {[]string{"fr,de;q=0.7,en;q=0.3"}, "de"}, {[]string{"en-GB,de;q=0.5"}, "en"},
		{[]string{"", "de-CH"}, "de"}, {[]string{"nonsense !!", "de"}, "de"}, {[]string{"en", "de"}, "en"},
	} {
		if got := say.For(c.asked...).Language; got != c.want {
			t.Errorf("%q is answered in %s, want %s", c.asked, got, c.want)
		}
	}
}

// Below zero people read a minus, U+2212 (Unicode 16, General Punctuation and Mathematical
// Operators), and programs a hyphen; the hyphens of names, dates and ranges stay.
func TestPeopleReadAMinus(t *testing.T) {
	t.Parallel()
	eyes := say.For("de").ForEyes()
	for shown, want := range map[string]string{
		quantity.Temperature.Show(255.15): "−18,0 °C", quantity.Diffusivity.Show(1.2e-12): "1,20e−12 m²/s", quantity.Mass.Span(-0.02, 0.03): "−20 bis 30 g",
		quantity.Diffusivity.Span(1e-12, 4e-12): "1,0e−12 bis 4,0e−12 m²/s", "2026-11-20 16:40": "2026-11-20 16:40", "ISO 3310-1": "ISO 3310-1", "PA6-GF30": "PA6-GF30", "L* 11.5, a* -0.5": "L* 11,5, a* −0,5",
	} {
		if got := eyes.Number(shown); got != want {
			t.Errorf("%q reads %q, wanted %q", shown, got, want)
		}
		if got := say.For("de").Number(shown); strings.Contains(got, "−") {
			t.Errorf("a program reads %q", got)
		}
	}
	for kind, want := range map[quantity.Kind]float64{quantity.Temperature: 255.15, quantity.Diffusivity: 1.2e-12} {
		if got, err := kind.Parse(eyes.Number(kind.Show(want))); err != nil || math.Abs(got/want-1) > 1e-9 {
			t.Errorf("%s is read back as %v: %v", eyes.Number(kind.Show(want)), got, err)
		}
	}
}

// Plural forms are those of CLDR, which both languages part at one; numbers and
// units follow the language.
func TestWordsAndNumbersFollowTheLanguage(t *testing.T) {
	t.Parallel()
	en, de := say.For("en"), say.For("de")
	speed, err := figure.FromDraws("speed", "print.value", quantity.Rotation, []float64{100, 120, 140})
	if err != nil {
		t.Fatal(err)
	}
	speed = speed.Held(figure.Limit{Name: "print.bound", Value: 150, Side: figure.Below, Holds: 0.95}).LearnedFrom(1)
	lot := fact.Lot("lot", "S7", "bin")
	guessed := speed.Held(speed.Limit.On(figure.Exact("n", "n", quantity.Rotation, 150, figure.Books).Cite("from memory", "")))
	for _, c := range []struct{ got, want string }{
		{en.Line("next.waits", fact.Count("n", 1)), "One thing waits."},
		{en.Line("next.waits", fact.Count("n", 6)), "6 things wait, the most useful first."},
		{de.Line("next.waits", fact.Count("n", 1)), "Eine Sache wartet."},
		{en.Line("do.identify", lot), "Find out what S7 (bin) is"},
		{de.Line("do.identify", fact.Lot("lot", "S7", "")), "Finde heraus, was S7 ist"},
		{de.Number(quantity.Mass.Show(1.234)), "1,23 kg"},
		{de.Number(quantity.Duration.Span(200, 250)), "3 min 20 s bis 4 min 10 s"},
		{de.WithRange(speed), "1100 1/min (1000–1300 1/min)"},
		{de.Bound(speed), "höchstens 1430 1/min"}, {en.Bound(speed), "at most 1430 rpm"},
		{de.Bound(guessed), "höchstens 1430 1/min, geschätzt"}, {en.Bound(guessed), "at most 1430 rpm, a guess"},
		{de.Origin(speed), "aus 1 Lauf"}, {en.Origin(speed), "from 1 run"},
		{de.Verdict(answer.Unknown), "noch nicht bekannt"},
		{de.Number("0.30 EUR per kWh"), "0,30 EUR je kWh"},
		{en.WithComma().Number("1.5 kg"), "1,5 kg"},
		{de.List([]string{"a", "b", "c"}), "a, b und c"}, {en.List([]string{"a"}), "a"},
		{de.Figure(speed).Name, "Wert"}, {de.Figure(speed).Limit.Name, "Grenze"},
		{en.Word("m = P·t/e"), "m = P·t/e"},
		{de.Fact(fact.Moment("at", time.Date(2026, 3, 9, 16, 40, 0, 0, time.UTC))), "09.03. 16:40"},
		{en.Fact(fact.Moment("at", time.Date(2026, 3, 9, 16, 40, 0, 0, time.UTC))), "9 Mar 16:40"},
		{en.Fact(fact.About("x", quantity.Share, 0.256)), "26 %"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// Scripts find the code and the facts beside every sentence.
func TestJSONCarriesCodeAndFacts(t *testing.T) {
	t.Parallel()
	d := say.For("de").Document(answer.Document{Head: answer.Found(fact.Say("next.nothing")), Steps: []answer.Action{{
		Do: fact.Say("do.plan", fact.Name("need", "hook")), Why: fact.Say("next.mill_holds", fact.Set("held", quantity.Mass, 0.24))}}})
	text, err := json.Marshal(d.Steps)
	if err != nil {
		t.Fatal(err)
	}
	const want = `[{"say":"Plane hook","code":"do.plan","facts":{"need":"hook"},"why":{"say":"Nach den Einträgen liegen noch 240 g darin.","code":"next.mill_holds","facts":{"held":{"value":0.24,"unit":"kg","shown":"240 g"}}}}]`
	if string(text) != want {
		t.Errorf("got  %s\nwant %s", text, want)
	}
}

func TestSchemaIsTheOneInTheDocumentation(t *testing.T) {
	t.Parallel()
	want, err := say.Schema()
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("../../docs/json/answer.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(got, want) {
		t.Error("docs/json/answer.schema.json is not current; run go run ./internal/say/print > docs/json/answer.schema.json")
	}
}

// A length that serves as a name, such as a sieve's, has the language's decimal sign; other
// names stay as people wrote them.
func TestSievesAreCalledInTheLanguage(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{"2.80 mm": "2,80 mm", "500 µm": "500 µm", "No. 10": "No. 10", "mill v1.2": "mill v1.2", "1.2 of it": "1.2 of it"} {
		if got := say.For("de").Fact(fact.Name("sieve", name)); got != want {
			t.Errorf("%q is called %q, want %q", name, got, want)
		}
		if got := say.For("en").Fact(fact.Name("sieve", name)); got != name {
			t.Errorf("%q is called %q", name, got)
		}
	}
	f := say.For("de").Figure(figure.Figure{Name: "sieving.finer_than", About: "0.5 mm"})
	if !strings.Contains(f.Name, "0,5 mm") {
		t.Errorf("a figure is called %q", f.Name)
	}
}
