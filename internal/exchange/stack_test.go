package exchange

import (
	"bytes"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"unicode"

	"github.com/xuri/excelize/v2"

	"hopperful/internal/say"
	"hopperful/process/sieve"
)

// the stack that most good tables below spell out: openings, net masses, charge [SI].
func wanted() Stack {
	var s Stack
	for _, stamped := range []string{"2.80 mm", "1.40 mm", "500 µm"} {
		one, err := sieve.ByDesignation(stamped)
		if err != nil {
			panic(err)
		}
		s.Sieves = append(s.Sieves, one)
	}
	s.Portions = []sieve.Portion{{Charge: 0.0998, Rows: []sieve.Row{{}, {Mass: 0.0523}, {Mass: 0.0402}, {Mass: 0.0071}}}}
	return s
}

func read4(name, text string) (Stack, error) {
	return ReadStack(name, strings.NewReader(text), int64(len(text)), Reading{})
}

// One stack, written in the ways people write tables, is read alike.
func TestSameStackHoweverWritten(t *testing.T) {
	t.Parallel()
	for name, text := range map[string]string{
		"comma":                "opening (mm),retained (g)\n2.8,0\n1.4,52.3\n0.5,40.2\npan,7.1\ncharge,99.8\n",
		"semicolon and commas": "opening [mm];retained [g]\n2,8;0\n1,4;52,3\n0,5;40,2\npan;7,1\ncharge;99,8\n",
		"tabs, pasted":         "opening mm\tretained g\n2.8\t0\n1.4\t52.3\n0.5\t40.2\npan\t7.1\ncharge\t99.8",
		"tabs, decimal comma":  "opening mm\tretained g\n2,8\t0\n1,4\t52,3\n0,5\t40,2\npan\t7,1\ncharge\t99,8",
		"units in the cells":   "opening,mass\n2.8 mm,0 g\n1.4mm,52.3g\n500 µm,40.2 g\npan,7100 mg\ncharge,0.0998 kg\n",
		"no heading, blanks":   "2.8 mm 0 g\n1.4 mm  52.3 g\n500 um 40.2 g\npan 7.1 g\ncharge 99.8 g",
		"blanks and commas":    "2,8 mm 0 g\n1,4 mm 52,3 g\n500 µm 40,2 g\npan 7,1 g\ncharge 99,8 g",
		"stamped":              "sieve,net (g)\nNo. 7,0\n#14,52.3\nno 35,40.2\nPAN,7.1\ncharge,99.8 g\n",
		"facts above, remarks": "# of the third run\nMonday's stack\ncharge (g),99.8\n\nopening (mm),note,retained (g),retained (%)\n2.8,,0,0\n1.4,,52.3,52\n0.5,torn edge,40.2,40\npan,,7.1,7\ntotal,,99.6,\n",
		"finest first":         "opening (mm),retained (g)\npan,7.1\n0.5,40.2\n1.4,52.3\n2.8,0\ncharge,99.8",
		"byte order mark":      "\ufeffopening (mm),retained (g)\r\n2.8,0\r\n1.4,52.3\r\n0.5,40.2\r\npan,7.1\r\ncharge,99.8\r\n",
		"old line ends":        "opening (mm),retained (g)\r2.8,0\r1.4,52.3\r0.5,40.2\rpan,7.1\rcharge,99.8\r",
		"one byte a letter":    "opening (\xb5m),retained (g)\n2800,0\n1400,52.3\n500,40.2\npan,7.1\ncharge,99.8\n",
		"two bytes a letter":   "\xff\xfe" + wide("opening (mm)\tretained (g)\n2.8\t0\n1.4\t52.3\n0.5\t40.2\npan\t7.1\ncharge\t99.8\n"),
		"quoted":               "\"opening (mm)\",\"retained (g)\"\n\"2,8\",\"0\"\n\"1,4\",\"52,3\"\n\"0,5\",\"40,2\"\npan,\"7,1\"\ncharge,\"99,8\"\n",
		"two bars":             "sieve,opening (mm),retained (g)\n2.8 mm,2.8,0\n1.4 mm,1.4,52.3\n500 µm,0.5,40.2\npan,,7.1\ncharge,,99.8\n",
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got, err := read4("stack.csv", text)
			if err != nil {
				t.Fatal(err)
			}
			for i, s := range wanted().Sieves {
				if got.Sieves[i].Opening != s.Opening {
					t.Errorf("sieve %d is %v, wanted %v", i+1, got.Sieves[i].Opening, s.Opening)
				}
			}
			if !reflect.DeepEqual(wanted().Portions, got.Portions) {
				t.Errorf("wanted %v, got %v", wanted().Portions, got.Portions)
			}
		})
	}
}

func wide(text string) string {
	var b strings.Builder
	for _, r := range text {
		b.WriteByte(byte(r))
		b.WriteByte(byte(r >> 8))
	}
	return b.String()
}

func TestFullAndEmptySievesAndPortions(t *testing.T) {
	t.Parallel()
	got, err := read4("stack.csv", `lot,r3
screen hole (mm),2
holes,round
long grains,3
opening (mm),full 1 (g),full 2 (g),empty (g)
charge,60,40.5,
2,310.2,305.1,300
1,420,410,400
pan,280.1,271.3,250.2`)
	if err != nil {
		t.Fatal(err)
	}
	if got.Lot != "R3" || *got.Hole != 2e-3 || *got.Long != 3 || got.Sieves[0].Form != sieve.PlateRound {
		t.Errorf("facts: %+v", got)
	}
	want := []sieve.Portion{
		{Charge: 0.06, Rows: []sieve.Row{{Mass: 0.3102, Tare: 0.3}, {Mass: 0.42, Tare: 0.4}, {Mass: 0.2801, Tare: 0.2502}}},
		{Charge: 0.0405, Rows: []sieve.Row{{Mass: 0.3051, Tare: 0.3}, {Mass: 0.41, Tare: 0.4}, {Mass: 0.2713, Tare: 0.2502}}},
	}
	if !reflect.DeepEqual(want, got.Portions) {
		t.Errorf("wanted %v, got %v", want, got.Portions)
	}
}

// What cannot be read is refused with its place and what to do.
func TestRefusals(t *testing.T) {
	t.Parallel()
	const head = "opening (mm),retained (g)\n"
	for name, c := range map[string]struct{ text, want string }{
		"empty":                {"", "nothing in it"},
		"only remarks":         {"# nothing\n\n", "nothing in it"},
		"binary":               {"\x00\x01\x02", "no text"},
		"a broken workbook":    {"PK\x03\x04 rubbish", "cannot be read as a workbook"},
		"prose":                {"Dear all,\nthe sieves are dirty\n", "line 1, column 1 (opening)"},
		"a blank mass":         {head + "4,\n2,5\npan,1", "line 2, column 2 (retained (g)): there is no mass"},
		"a dash for a mass":    {head + "4,-\n2,5\npan,1", "line 2, column 2 (retained (g)): \"-\" is no mass"},
		"a pan in the middle":  {head + "4,1\n0,5\n2,5\npan,1", "line 3, column 1: no sieve is named"},
		"a nameless line amid": {head + "4,1\n,5\n2,5\n1,1", "line 3, column 1: no sieve is named"},
		"a pan on top":         {head + ",5\n4,1\n2,5\n1,1", "line 2, column 1: no sieve is named"},
		"a pan of other size":  {head + "4,1\n2,5\n<1,1", "line 4, column 1: \"<1\" is the pan only under a sieve of that size; the finest is 2.00 mm"},
		"a nameless sum":       {head + "4,1\n2,5\n,6", "line 4, column 1: this may be the pan or the sum"},
		"no unit":              {"opening,retained (g)\n2,5\npan,1", "line 2, column 1 (opening): \"2\" is no sieve"},
		"no unit of mass":      {"opening (mm),retained\n2,5\npan,1", "line 2, column 2 (retained): \"5\" cannot be read: 5 has no unit"},
		"wrong unit":           {"opening (mm),retained (mm)\n2,5\npan,1", "mm is a unit of another kind (length)"},
		"shares only":          {"opening (mm),retained (%)\n2,50\npan,50", "shares alone"},
		"no mass":              {head + "pan,1", "line 1: no sieve with a mass"},
		"letters":              {head + "2,five\npan,1", "line 2, column 2 (retained (g)): \"five\" cannot be read"},
		"negative":             {head + "2,5\n1,-0.2\npan,1", "line 3, column 2 (retained (g)): -0.2 is negative"},
		"wrong order":          {head + "2,5\n0.5,3\n1,2\npan,1", "line 4: the sieve 1.00 mm stands under the finer one"},
		"twice":                {head + "2,5\n1,3\n1,2\npan,1", "line 4: the sieve 1.00 mm stands twice"},
		"no pan":               {head + "2,5\n1,3", "ends without the pan"},
		"two pans":             {head + "2,5\npan,3\npan,3", "line 4: the pan stands twice"},
		"a pan without mass":   {head + "2,5\npan,", "line 3, column 2 (retained (g)): there is no mass"},
		"two decimal signs":    {"opening (mm);retained (g)\n2,8;5.5\npan;1", "line 2, column 1 says 2,8, but line 2, column 2 says 5.5"},
		"a thousand":           {"opening (mm)\tretained (g)\n2\t1,250\npan\t3", "could group thousands"},
		"grouped thousands":    {head + "2,1'250\npan,3", "unclear which sign"},
		"full without empty":   {"opening (mm),full (g)\n2,305\npan,250", "none with the empty sieves"},
		"empty without full":   {"opening (mm),empty 1 (g)\n2,305\npan,250", "none with what lay on the sieves"},
		"lighter than empty":   {"opening (mm),full (g),empty (g)\n2,290,300\npan,250,249", "line 2, column 2 (full (g)): 290 is less than the empty sieve, 300"},
		"one tare missing":     {"opening (mm),full (g),empty (g)\n2,310,300\n1,305,\npan,250,249", "line 3, column 3 (empty (g)): the empty weight is missing"},
		"three that disagree":  {"opening (mm),full (g),empty (g),net (g)\n2,310,300,12\npan,250,249,1", "12 is not full less empty, 10"},
		"twice the same":       {"opening (mm),net (g),mass (g)\n2,310,300\npan,250,249", "two columns mean the same"},
		"a portion short":      {"opening (mm),net 1 (g),net 2 (g)\n2,3,\npan,2,2", "line 2, column 3 (net 2 (g)): portion 2 has no mass here"},
		"half the charges":     {"opening (mm),net 1 (g),net 2 (g)\ncharge,7\n2,3,3\npan,2,2", "charge"},
		"a charge of nothing":  {head + "charge,0\n2,3\npan,2", "nothing to sieve"},
		"stamped otherwise":    {"sieve,opening (mm),net (g)\nNo. 10,1.4,3\npan,,1", "does not have the opening"},
		"far too coarse":       {"opening (m),net (g)\n2,3\npan,1", "outside"},
		"no sieve":             {head + ",3\npan,1", "no sieve is named"},
		"an unknown form":      {"holes,oval\n" + head + "2,3\npan,1", "no form of holes"},
		"a count of nothing":   {"long grains,many\n" + head + "2,3\npan,1", "no count"},
		"a very long cell":     {head + strings.Repeat("x", 300) + ",3\npan,1", "longer than 200"},
		"too many columns":     {strings.Repeat(",", 70) + "x", "columns are more than"},
		"too many lines":       {strings.Repeat("x\n", 5001), "goes on after"},
		"another scale":        {"sieve,net (g)\n10 mesh,3\npan,1", "is no sieve"},
		"infinite":             {head + "2,1e999\npan,1", "cannot be read"},
		"not a number":         {head + "2,NaN\npan,1", "cannot be read"},
		"an opening not there": {head + "2,3\nabc,4\npan,1", "line 3, column 1 (opening (mm)): \"abc\" is no sieve"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, err := read4("stack.csv", c.text)
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("error %v, wanted an *Error with %q", err, c.want)
			}
			if !strings.Contains(worded(e), c.want) || e.Advice.Empty() || !strings.Contains(worded(e), "stack.csv") {
				t.Errorf("says %q, hint %q; wanted %q", worded(e), e.Advice.Code, c.want)
			}
		})
	}
}

func TestLongFilesAreNotRead(t *testing.T) {
	t.Parallel()
	if _, err := ReadStack("big.csv", strings.NewReader(""), MostBytes+1, Reading{}); err == nil {
		t.Error("a size beyond the bound was read")
	}
	endless := &counted{}
	if _, err := ReadStack("pipe", endless, -1, Reading{}); err == nil || endless.n > MostBytes+1<<16 {
		t.Errorf("err %v after %d bytes", err, endless.n)
	}
}

// counted gives zeros without end.
type counted struct{ n int }

func (c *counted) Read(p []byte) (int, error) {
	c.n += len(p)
	return len(p), nil
}

// A total that does not fit is told, not hidden.
func TestNotes(t *testing.T) {
	t.Parallel()
	got, err := read4("stack.csv", "opening (mm),retained (g),who\n2,5\n1,5\npan,1\ntotal,12\n")
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(say.For("en").All(got.Notes), "\n")
	for _, want := range []string{"Not used: who", "The total 12 is not the sum"} {
		if !strings.Contains(all, want) {
			t.Errorf("notes %q lack %q", all, want)
		}
	}
}

// The pan is the pan whatever people call it, and where it was not called by a
// name a note says so. The words are from dictionaries, from memory.
func TestThePanByAnyName(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"pan", "Pan", "PFANNE", "Boden", "Siebboden", "Auffangschale", "fond", "récipient", "fondo", "Bandeja", "fundo", "bodem", "botten", "dno", "tava",
		"0", "0.0", "", "-", "–", "<0.5", "< 0.5", "≤0.5 mm", "<500 µm", "< 0.5 mm", "below 0.5", "unter 0.5"} {
		got, err := read4("stack.csv", "opening (mm),retained (g)\n2.8,0\n1.4,52.3\n0.5,40.2\n"+name+",7.1\ncharge,99.8\n")
		if err != nil {
			t.Errorf("%q: %v", name, err)
			continue
		}
		if !reflect.DeepEqual(wanted().Portions, got.Portions) {
			t.Errorf("%q: wanted %v, got %v", name, wanted().Portions, got.Portions)
		}
		word := name != "" && unicode.IsLetter([]rune(name)[0]) && !strings.Contains(name, "0.5")
		if noted := strings.Contains(strings.Join(say.For("en").All(got.Notes), " "), "taken as the pan"); noted == word {
			t.Errorf("%q: notes %v", name, got.Notes)
		}
	}
	for _, text := range []string{ // from the pan upwards, in columns of blanks, and with the stamps beside
		"opening (mm),retained (g)\n0,7.1\n0.5,40.2\n1.4,52.3\n2.8,0\ncharge,99.8",
		"2.8 mm 0 g\n1.4 mm 52.3 g\n500 um 40.2 g\n< 500 µm 7.1 g\ncharge 99.8 g",
		"sieve,opening (mm),retained (g)\n2.80 mm,2.8,0\n1.40 mm,1.4,52.3\n500 µm,0.5,40.2\n-,0,7.1\ncharge,,99.8",
	} {
		if got, err := read4("stack.csv", text); err != nil || !reflect.DeepEqual(wanted().Portions, got.Portions) {
			t.Errorf("%s: %v, %v", text, got.Portions, err)
		}
	}
}

// A formula that no spreadsheet has worked out reads as nothing and is refused
// at its cell, wherever it stands.
func TestFormulasWithoutAValue(t *testing.T) {
	t.Parallel()
	for cell, wrong := range map[string]string{"B4": "cell B4 (retained (g))", "B5": "cell B5 (retained (g))", "A5": "cell A5", "B1": "cell B1 (charge)", "A6": "cell A6"} {
		f := excelize.NewFile()
		for at, v := range map[string]any{"A1": "charge (g)", "B1": 12, "A2": "opening (mm)", "B2": "retained (g)", "A3": 2, "B3": 5, "A4": 1, "B4": 6, "A5": "pan", "B5": 1} {
			if err := f.SetCellValue("Sheet1", at, v); err != nil {
				t.Fatal(err)
			}
		}
		if err := errors.Join(f.SetCellValue("Sheet1", cell, nil), f.SetCellFormula("Sheet1", cell, "1+5")); err != nil {
			t.Fatal(err)
		}
		raw, err := f.WriteToBuffer()
		if err != nil {
			t.Fatal(err)
		}
		if _, err = ReadStack("stack.xlsx", raw, -1, Reading{}); err == nil || !strings.Contains(worded(err), wrong) || !strings.Contains(worded(err), "formula") {
			t.Errorf("a formula in %s: %v", cell, err)
		}
	}
}

func TestWorkbook(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := writeStack(&b, wanted(), XLSX); err != nil {
		t.Fatal(err)
	}
	raw := b.Bytes()
	got, err := ReadStack("stack.xlsx", bytes.NewReader(raw), int64(len(raw)), Reading{Sheet: "Sieves"})
	if err != nil {
		t.Fatal(err)
	}
	same(t, wanted(), got, 1e-14)
	if _, err := ReadStack("stack.xlsx", bytes.NewReader(raw), -1, Reading{Sheet: "Charts"}); err == nil || !strings.Contains(worded(err), "It has: Sieves") {
		t.Errorf("a sheet that is not there: %v", err)
	}
	for n := range raw { // cut off anywhere, it is refused and nothing breaks
		if n%97 == 0 {
			if _, err := ReadStack("cut.xlsx", bytes.NewReader(raw[:n]), -1, Reading{}); err == nil {
				t.Errorf("a workbook of %d of %d bytes was read", n, len(raw))
			}
		}
	}
}

// A fault in a workbook names the cell.
func TestWorkbookNamesItsCells(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := writeSheet(&b, "Sieves", [][]string{{"opening (mm)", "retained (g)"}, {"2", "3"}, {"1", "a few"}, {"pan", "1"}}); err != nil {
		t.Fatal(err)
	}
	_, err := ReadStack("stack.xlsx", &b, -1, Reading{})
	if err == nil || !strings.Contains(worded(err), "cell B3 (retained (g))") {
		t.Errorf("error %v, wanted cell B3", err)
	}
}

func same(t *testing.T, want, got Stack, within float64) {
	t.Helper()
	near := func(a, b float64) bool { return math.Abs(a-b) <= within*math.Abs(a) }
	if len(want.Sieves) != len(got.Sieves) || len(want.Portions) != len(got.Portions) || want.Lot != got.Lot {
		t.Fatalf("wanted %+v, got %+v", want, got)
	}
	for i := range want.Sieves {
		if !near(want.Sieves[i].Opening, got.Sieves[i].Opening) || want.Sieves[i].Form != got.Sieves[i].Form {
			t.Errorf("sieve %d: wanted %v, got %v", i, want.Sieves[i], got.Sieves[i])
		}
	}
	for p := range want.Portions {
		if !near(want.Portions[p].Charge, got.Portions[p].Charge) {
			t.Errorf("charge: wanted %v, got %v", want.Portions[p].Charge, got.Portions[p].Charge)
		}
		for i, r := range want.Portions[p].Rows {
			if g := got.Portions[p].Rows[i]; !near(r.Mass, g.Mass) || !near(r.Tare, g.Tare) {
				t.Errorf("row %d: wanted %v, got %v", i, r, g)
			}
		}
	}
}

// A table headed in German is read like one in English, and the template in a language is
// headed in it.
func TestATableIsHeadedInTheLanguage(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"Maschenweite (mm);Rückstand (g)\n2,8;0\n1,4;52,3\n0,5;40,2\nBoden;7,1\nEinwaage;99,8",
		"Sieb;Masse (g)\n2,8 mm;0\n1,4 mm;52,3\n0,5 mm;40,2\nBoden;7,1\nEinwaage;99,8",
	} {
		if got, err := read4("stack.csv", text); err != nil || !reflect.DeepEqual(wanted().Portions, got.Portions) {
			t.Errorf("%s: %v, %v", text, got.Portions, err)
		}
	}
	for lang, word := range map[string]string{"en": "retained (g)", "de": "Rückstand (g)"} {
		for _, gross := range []bool{true, false} {
			sieves, err := SievesNamed("2.8mm 1.4mm 0.5mm")
			if err != nil {
				t.Fatal(err)
			}
			var out strings.Builder
			if err := WriteTemplate(&out, lang, sieves, gross, CSV); err != nil {
				t.Fatal(err)
			}
			filled := strings.NewReplacer("2.8,", "2.8,5", "1.4,", "1.4,7", "0.5,", "0.5,9").Replace(strings.ReplaceAll(out.String(), "Boden,,", "Boden,,3"))
			filled = strings.ReplaceAll(filled, "pan,,", "pan,,3")
			if gross {
				filled = strings.NewReplacer("2.8,5,", "2.8,5,1", "1.4,7,", "1.4,7,1", "0.5,9,", "0.5,9,1", ",,3,", ",,3,1").Replace(filled)
			} else if !strings.Contains(filled, word) {
				t.Errorf("%s: no %q in\n%s", lang, word, filled)
			}
			if got, err := read4("stack.csv", filled); err != nil || len(got.Portions) != 1 {
				t.Errorf("%s, %t: %v, %v in\n%s", lang, gross, got.Portions, err, filled)
			}
		}
	}
}
