package exchange

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"hopperful/internal/say"
	"hopperful/plan/notebook"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

var bookNow = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

func readBookText(t testing.TB, text string) Notebook {
	t.Helper()
	b, err := ReadNotebook("notebook.csv", strings.NewReader(text), int64(len(text)), BookReading{Now: bookNow})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// bookShop is a shop that took in a bin before the notebooks below begin.
func bookShop(t testing.TB, bin *shop.TakenIn) *shop.State {
	t.Helper()
	bin.Class, bin.Polymer, bin.Mass = shop.Scrap, "PLA", 2
	s, err := shoptest.Bin(t).With(shop.Record{At: time.Date(2026, 4, 20, 8, 0, 0, 0, time.UTC), Body: bin})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// judged is the notebook held against a small shop, line by line.
func judged(t testing.TB, s *shop.State, text string) notebook.Result {
	t.Helper()
	b := readBookText(t, text)
	return notebook.Of(s, bookNow, b.Lines, b.Notes...)
}

// brief is a record in one line: moment, kind, body.
func brief(t testing.TB, r shop.Record) string {
	t.Helper()
	text, err := shop.Encode(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.At.Format("2006-01-02 15:04") + " " + r.Body.Kind() + " " + string(text)
}

// The same run, in the ways people write it down.
func TestSameRunHoweverWritten(t *testing.T) {
	t.Parallel()
	want := `2026-05-03 14:05 ground {"mill":"Rattle","from":"S1","into":"R1","charge_kg":0.0905,"product_kg":0.0785,"run_s":80,"level":12,"wall_after_k":315.15}`
	for name, text := range map[string]string{
		"units in headings":    "date,time,from,charge (g),product (g),run (s),level,wall after (°C)\n2026-05-03,14:05,S1,90.5,78.5,80,12,42\n",
		"units in cells":       "Date,Time,From,Charge,Product,Run,Level,Wall after\n3 May 2026,2:05 pm,s1,90.5 g,78.5g,1 min 20 s,12,42 °C\n",
		"German, semicolons":   "Datum;Uhrzeit;von;Einwaage (g);Auswaage (g);Laufzeit (min);Stufe;Wand nachher (°C)\n3.5.2026;14:05;S1;90,5;78,5;1:20;12;42\n",
		"German, words":        "Tag;Uhr;Was;aus;Füllung in g;Produkt in g;Dauer;Reglerstufe;Wand [°C]\nSo 3. Mai 26;14 Uhr 05;gemahlen;S1;90,5;78,5;1:20;12;42\n",
		"tabs, kilograms":      "DATE\tTIME\tFROM\tCHARGE_kg\tPRODUCT (kg)\tRUN TIME (min)\tLEVEL\tWALL AFTER (K)\n2026-05-03\t14.05\tS1\t0.0905\t0.0785\t1:20\t12\t315.15\n",
		"with the pan":         "pan, 212 g\ndate,time,from,charge with pan (g),product with pan (g),run,level,wall after (°C)\n2026-05-03,14:05,S1,302.5,290.5,80 s,12,42\n",
		"date on its own":      "time,from,charge (g),product (g),run (s),level,wall after (°C)\n3.5.2026\n14:05,S1,90.5,78.5,80,12,42\n",
		"what holds for all":   "My notebook\nmill,rattle\nfrom,S1\nRuns\ndate,time,charge (g),product (g),run (s),level,wall after (°C)\n2026-05-03,14:05,90.5,78.5,80,12,42\n",
		"date and time":        "date,from,charge (g),product (g),run (s),level,wall (°C)\n2026-05-03 14:05,S1,90.5,78.5,80,12,42\n",
		"strokes, day decided": "date,time,from,charge (g),product (g),run (s),level,wall (°C)\n3/5/2026,14:05,S1,90.5,78.5,80,12,42\n28/4/2026,,S1,80,,60,,\n",
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s := bookShop(t, &shop.TakenIn{})
			r := judged(t, s, text)
			if r.Lines[0].Fate == notebook.Refused {
				t.Fatalf("refused: %+v", r.Lines[0].Wrong)
			}
			if got := brief(t, r.Lines[0].Record); strings.Replace(got, "R2", "R1", 1) != want {
				t.Errorf("got\n%s\nwanted\n%s", got, want)
			}
		})
	}
}

// A workbook keeps dates as days and times as fractions of them.
func TestNotebookOfAWorkbook(t *testing.T) {
	t.Parallel()
	f := excelize.NewFile()
	defer f.Close()
	style := func(code string) int {
		id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
		if err != nil {
			t.Fatal(err)
		}
		return id
	}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(f.SetSheetName("Sheet1", "Läufe"))
	must(f.SetSheetRow("Läufe", "A1", &[]any{"Datum", "Uhrzeit", "von", "Einwaage (g)", "Laufzeit (min)", "Auswaage"}))
	must(f.SetSheetRow("Läufe", "A2", &[]any{46145.0, 14.0/24 + 5.0/1440, "S1", 90.5, 1.0/24 + 20.0/1440, "78,5 g"}))
	must(f.SetCellStyle("Läufe", "A2", "A2", style("dd.mm.yyyy")))
	must(f.SetCellStyle("Läufe", "B2", "B2", style("hh:mm")))
	must(f.SetCellStyle("Läufe", "E2", "E2", style("h:mm")))
	_, err := f.NewSheet("Drucke")
	must(err)
	must(f.SetSheetRow("Drucke", "A1", &[]any{"Datum", "von", "Druck", "Masse (g)", "gut"}))
	must(f.SetSheetRow("Drucke", "A2", &[]any{"4.5.", "R1", "Haken", 40, "ja"}))
	var raw bytes.Buffer
	must(f.Write(&raw))
	b, err := ReadNotebook("book.xlsx", &raw, -1, BookReading{Now: bookNow})
	must(err)
	s := bookShop(t, &shop.TakenIn{})
	r := notebook.Of(s, bookNow, b.Lines)
	if len(r.Records) != 2 {
		t.Fatalf("%+v", r.Lines)
	}
	for i, want := range []string{
		`2026-05-03 14:05 ground {"mill":"Rattle","from":"S1","into":"R1","charge_kg":0.0905,"product_kg":0.0785,"run_s":80}`,
		`2026-05-04 00:00 printed {"from":"R1","into":"P1","print":"Haken","mass_kg":0.04,"good":"yes"}`,
	} {
		if got := brief(t, r.Records[i]); got != want {
			t.Errorf("got  %s\nwanted %s", got, want)
		}
	}
	if got := say.For("en").Say(r.Lines[1].Place); got != "Drucke, row 2" {
		t.Errorf("place %q", got)
	}
}

// Nothing is guessed that may mean two things, and each refusal says where and why.
func TestNotebookRefusesLines(t *testing.T) {
	t.Parallel()
	const head = "date,what,from,charge (g),run (s),product (g),pan (g)\n"
	p := say.For("en")
	for _, c := range []struct{ name, text, want string }{
		{"no date", "what,from,charge (g),run (s)\nground,S1,90,60\n", "line 2: There is no date, and none above it."},
		{"two orders", head + "3/5/2026,ground,S1,90,60,,\n", "line 2, date: In “3/5/2026” the day or the month may stand first."},
		{"no such day", head + "31.4.2026,ground,S1,90,60,,\n", "line 2, date: “31.4.2026” cannot be read."},
		{"no unit", "date,from,charge,run (s)\n2026-05-03,S1,90,60\n", "line 2, charge: 90 has no unit."},
		{"no number", head + "2026-05-03,ground,S1,ninety,60,,\n", "line 2, charge (g): “ninety” cannot be read."},
		{"no run", head + "2026-05-03,ground,S1,90,,,\n", "line 2: The line does not say how long the mill ran."},
		{"no lot", head + "2026-05-03,ground,,90,60,,\n", "line 2: The line does not say which lot the charge came from."},
		{"unknown name", head + "2026-05-03,ground,blue bin,90,60,,\n", "line 2, from: No lot is called blue bin."},
		{"unknown lot", head + "2026-05-03,ground,S7,90,60,,\n", "line 2, from: No lot is called S7."},
		{"a lot of later", strings.Replace(head, "pan (g)", "lot", 1) + "2026-04-03,ground,S1,90,60,,\n", "line 2, from: S1 came only on 20 Apr 08:00."},
		{"unknown work", head + "2026-05-03,sanded,S1,90,60,,\n", "line 2: The line does not say what was done."},
		{"no pan", "date,from,charge with pan (g),run (s)\n2026-05-03,S1,90,60\n", "line 2, charge with pan (g): It was weighed with the pan, and nothing says what the empty pan weighs."},
		{"heavier pan", "date,from,charge with pan (g),run (s),pan (g)\n2026-05-03,S1,90,60,212\n", "line 2, charge with pan (g): 90 is less than the empty pan."},
		{"a slip of the point", head + "2026-05-03,ground,S1,905000,60,,\n", "line 2, charge (g): A charge of"},
		{"ahead", head + "2027-05-03,ground,S1,90,60,,\n", "line 2: The date 2027-05-03 00:00 is in the future"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r := judged(t, bookShop(t, &shop.TakenIn{}), c.text)
			d := p.Document(r.Document)
			if len(r.Records) != 0 || len(d.Spoilers) == 0 || !strings.HasPrefix(d.Spoilers[0].Say, c.want) {
				t.Fatalf("wanted %q, got %+v, %d records", c.want, d.Spoilers, len(r.Records))
			}
			if len(d.Spoilers[0].Remedies) == 0 {
				t.Error("it does not say what to do")
			}
		})
	}
	for text, want := range map[string]string{"just,some,words\n1,2,3\n": "exchange.no_headings", "date,from,charge (g),in (g),run (s)\n": "exchange.same_meaning", "": "exchange.nothing_in_it", "\n,,\n": "exchange.nothing_in_it"} {
		_, err := ReadNotebook("x.csv", strings.NewReader(text), -1, BookReading{Now: bookNow})
		if no, ok := errors.AsType[*Error](err); !ok || no.What.Code != want {
			t.Errorf("%q is refused by %v, wanted %s", text, err, want)
		}
	}
}

// Nothing typed is lost: guesses, columns no record has a place for, and cells a
// record has no place for stand in the note. Signs for "as above" repeat it.
func TestNotebookLosesNothing(t *testing.T) {
	t.Parallel()
	s := bookShop(t, &shop.TakenIn{Name: "Black Bin"})
	r := judged(t, s, "date;time;what;from;charge (g);run (s);product (g);weather;note;print\n"+
		"3.5.2026;9:10;ground;black bin;~90;60;;dull;first;\n;;\"\"\"\";〃;80;61;?;;;hook\n4.5.2026;;weighed;;120;;;;;\n")
	if got := r.Lines[0].Record.Note; got != "first; charge (g): ~90; weather: dull" {
		t.Errorf("note %q", got)
	}
	if got := brief(t, r.Lines[1].Record); got != `2026-05-03 09:10 ground {"mill":"Rattle","from":"S1","into":"R1","charge_kg":0.08,"run_s":61}` {
		t.Errorf("second line %s", got)
	}
	if got := r.Lines[1].Record.Note; got != "print: hook" {
		t.Errorf("note %q", got)
	}
	if d := say.For("de").Document(r.Document); !strings.Contains(fmt.Sprint(d.Spoilers), "Für weather hat kein Eintrag einen Platz") {
		t.Errorf("the strange column is not told: %+v", d.Spoilers)
	}
}

// Two equal lines are two runs, and the same run on another day is another one:
// only as many lines are known as the shop has records of that moment.
func TestOnlyWhatIsThereIsKnown(t *testing.T) {
	t.Parallel()
	s := bookShop(t, &shop.TakenIn{})
	s, err := s.With(shop.Record{At: time.Date(2026, 5, 3, 0, 0, 0, 0, time.UTC), Body: &shop.Ground{Mill: "Rattle", From: "S1", Charge: 0.09, Run: 60}})
	if err != nil {
		t.Fatal(err)
	}
	r := judged(t, s, "date,from,charge (g),run (s)\n2026-05-02,S1,90,60\n2026-05-03,S1,90,60\n2026-05-03,S1,90,60\n")
	var fates []notebook.Fate
	for _, l := range r.Lines {
		fates = append(fates, l.Fate)
	}
	if want := []notebook.Fate{notebook.Taken, notebook.Known, notebook.Taken}; !slices.Equal(fates, want) || r.Lines[1].Was != s.Newest().ID || len(r.Records) != 2 {
		t.Errorf("got %v, wanted %v", fates, want)
	}
}

// Every heading of a template is understood, and an empty one holds no line.
func TestNotebookTemplate(t *testing.T) {
	t.Parallel()
	for _, lang := range []string{"en", "de"} {
		for _, f := range []Format{CSV, XLSX} {
			var text bytes.Buffer
			if err := WriteNotebookTemplate(&text, lang, f); err != nil {
				t.Fatal(err)
			}
			b, err := ReadNotebook("template", &text, -1, BookReading{Now: bookNow})
			if err != nil || len(b.Lines) != 0 || len(b.Notes) != 0 {
				t.Errorf("%s %d: %v %+v", lang, f, err, b)
			}
		}
		for _, c := range bookColumns {
			for _, word := range strings.Split(c.heads, "|") {
				if p, ok := pillarOf(0, word+map[bool]string{true: " (" + measured[c.part].unit + ")"}[measured[c.part].unit != ""]); !ok || p.part != c.part {
					t.Errorf("%q is understood as %q", word, p.part)
				}
			}
		}
	}
}

func FuzzReadNotebook(f *testing.F) {
	for _, name := range []string{"testdata/maker.csv", "testdata/heft.csv"} {
		raw, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	f.Add([]byte("date\tfrom\tcharge with pan (g)\trun\tpan\n3 May\tS1\t302,5\t1:20\t212 g\n"))
	f.Add([]byte("\xff\xfed\x00"))
	var b bytes.Buffer
	if err := WriteNotebookTemplate(&b, "de", XLSX); err != nil {
		f.Fatal(err)
	}
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, raw []byte) {
		b, err := ReadNotebook("fuzz", bytes.NewReader(raw), int64(len(raw)), BookReading{Now: bookNow})
		if err != nil {
			if _, ok := err.(*Error); !ok {
				t.Fatalf("%T: %v", err, err)
			}
			return
		}
		for _, l := range b.Lines {
			if len(l.Wrong) == 0 && (l.Record.Body == nil || l.Record.At.IsZero() || shop.Sound(l.Record.Body) != nil) {
				t.Fatalf("%+v", l)
			}
		}
		s := bookShop(t, &shop.TakenIn{})
		if r := notebook.Of(s, bookNow, b.Lines, b.Notes...); len(r.Lines) != len(b.Lines) {
			t.Fatal("lines are lost")
		}
	})
}

func inJSON(t testing.TB, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// What else stands in a maker's notebook, in both languages: dryings, magnets, dust, a
// jar, and what was done to the mill.
func TestWhatElseANotebookHolds(t *testing.T) {
	t.Parallel()
	s := bookShop(t, &shop.TakenIn{})
	r := judged(t, s, `date,time,what,from,charge (g),product (g),run,lot,dried in,temperature (°C),weighed before (g),weighed after (g),metal caught (g),mass (g),dust (g),jar (ml),part
2026-05-03,14:05,ground,S1,90,80,80 s,,,,,,,,,,
,15:00,dried,,,,5 h,R1,oven,65,79,78.6,,,,,
,20:00,magnet,,,,,R1,,,,,0.02,70,,,
,20:10,dedusted,,,,,R1,,,,,,,1.5,,
,20:20,jar,,,,,R1,,,,,,60,,150,
,20:30,replaced,,,,,,,,,,,,,,screen
`)
	want := []string{
		`2026-05-03 14:05 ground {"mill":"Rattle","from":"S1","into":"R1","charge_kg":0.09,"product_kg":0.08,"run_s":80}`,
		`2026-05-03 15:00 dried {"lot":"R1","way":"oven","temperature_k":338.15,"time_s":18000,"in_kg":0.079,"out_kg":0.0786}`,
		`2026-05-03 20:00 passed_magnet {"lot":"R1","metal_kg":0.00002,"passed_kg":0.07}`,
		`2026-05-03 20:10 dedusted {"lot":"R1","dust_kg":0.0015}`,
		`2026-05-03 20:20 jar_weighed {"lot":"R1","jar_m3":0.00015,"poured_kg":0.06}`,
		`2026-05-03 20:30 serviced {"mill":"Rattle","part":"screen","what":"replaced"}`,
	}
	for i, l := range r.Lines {
		if l.Fate == notebook.Refused {
			t.Errorf("line %d is refused: %+v", i+1, l.Wrong)
		} else if got := brief(t, l.Record); got != want[i] {
			t.Errorf("line %d is\n%s, want\n%s", i+1, got, want[i])
		}
	}
	r = judged(t, s, "Datum;Was;Posten;getrocknet in;Temperatur (°C);Dauer;Teil\n3.5.2026;getrocknet;S1;Ofen;65,5;4 h;\n4.5.2026;geschärft;;;;;Messer\n")
	for i, want := range []string{`2026-05-03 12:00 dried {"lot":"S1","way":"oven","temperature_k":338.65,"time_s":14400}`, `2026-05-04 12:00 serviced {"mill":"Rattle","part":"blade","what":"sharpened"}`} {
		if l := r.Lines[i]; l.Fate == notebook.Refused || brief(t, l.Record)[17:] != want[17:] {
			t.Errorf("line %d in German: %+v %v", i+1, l.Wrong, l.Record.Body)
		}
	}
	// what is missing is said by its name
	for text, code := range map[string]string{
		"date,what,lot,run\n2026-05-03,dried,S1,5 h\n":                                   "notebook.no_temperature",
		"date,what,lot,temperature (°C)\n2026-05-03,dried,S1,65\n":                       "notebook.no_hours",
		"date,what,lot,mass (g)\n2026-05-03,magnet,S1,70\n":                              "notebook.no_metal",
		"date,what,lot,mass (g)\n2026-05-03,jar,S1,70\n":                                 "notebook.no_jar",
		"date,what,lot,mill\n2026-05-03,replaced,,Rattle\n":                              "notebook.no_part",
		"date,what,lot,part\n2026-05-03,replaced,,flywheel\n":                            "notebook.not_read",
		"date,what,lot,dried in,temperature (°C),run\n2026-05-03,dried,S1,barn,65,5 h\n": "notebook.not_read",
	} {
		l := judged(t, s, text).Lines[0]
		if l.Fate != notebook.Refused || len(l.Wrong) == 0 || l.Wrong[0].What.Code != code {
			t.Errorf("%q: %s, %+v, want %s", text, l.Fate, l.Wrong, code)
		}
	}
}
