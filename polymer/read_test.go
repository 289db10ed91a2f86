package polymer

import (
	"strings"
	"testing"
)

func TestReadTellsFileAndLine(t *testing.T) {
	t.Parallel()
	good := "PLA,,density,1.24,1.22,1.26,g/cm³,23 °C,judgement,,judgement"
	for name, c := range map[string]struct{ text, want string }{
		"header":    {"polymer,grade\n", "mine.csv"},
		"no header": {"", "mine.csv"},
		"property":  {header + "\n" + good + "\n" + strings.Replace(good, "density", "colour", 1), "mine.csv:3"},
		"unit":      {header + "\n" + strings.Replace(good, "g/cm³", "kg", 1), "mine.csv:2"},
		"number":    {header + "\n" + strings.Replace(good, "1.24", "light", 1), "mine.csv:2: column value"},
		"low":       {header + "\n" + strings.Replace(good, "1.22", "", 1), "mine.csv:2: column low"},
		"order":     {header + "\n" + strings.Replace(good, "1.26", "1.23", 1), "PLA density: 1240"},
		"band":      {header + "\n" + strings.Replace(good, "1.26", "12.6", 1), "PLA density: 1240"},
		"no source": {header + "\n" + strings.Replace(good, "judgement,,", ",,", 1), "does not fit the mark"},
		"no mark":   {header + "\n" + good + "?", "none of the known"},
		"columns":   {header + "\nPLA,,density", "wrong number of fields"},
	} {
		_, err := Read("mine.csv", strings.NewReader(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "mine.csv") {
			t.Errorf("%s: error %v does not say %q", name, err, c.want)
		}
	}
	values, err := Read("mine.csv", strings.NewReader(header+"\n"+good+"\n"))
	if err != nil || len(values) != 1 || values[0].Value != 1240 || values[0].Low != 1220 || values[0].High != 1260 {
		t.Errorf("a sound line gave %+v, %v", values, err)
	}
}

func TestOneNumberGetsTheUsualScatter(t *testing.T) {
	t.Parallel()
	values, err := Read("mine.csv", strings.NewReader(header+"\nPLA,,glass_transition,60,,,°C,,judgement,,judgement\n"))
	if err != nil {
		t.Fatal(err)
	}
	if v := values[0]; v.Low != 60+zero-5 || v.High != 60+zero+5 || v.Note == "" {
		t.Errorf("got %+v, want 55 to 65 °C and a note", v)
	}
}

func TestFilesAreCrossChecked(t *testing.T) {
	t.Parallel()
	fresh := func() *Table {
		return &Table{words: map[string]string{"PLA": "x"}, called: map[string]string{}, values: map[string][]Value{}, cautions: map[string][]Caution{}}
	}
	for name, err := range map[string]error{
		"caution kind":     fresh().addCaution([]string{"PLA", "smell", "Sweet.", "judgement", "", "judgement"}),
		"caution material": fresh().addCaution([]string{"PLB", "fumes", "Sweet.", "judgement", "", "judgement"}),
		"caution empty":    fresh().addCaution([]string{"PLA", "fumes", "", "judgement", "", "judgement"}),
		"caution source":   fresh().addCaution([]string{"PLA", "fumes", "Sweet.", "nobody", "", "published"}),
		"pair material":    fresh().addPair([]string{"PLA", "PLB", "0", "0", "0", "pair.no", "judgement", "", "judgement"}),
		"pair share":       fresh().addPair([]string{"PLA", "any", "0", "lots", "0", "pair.no", "judgement", "", "judgement"}),
		"pair order":       fresh().addPair([]string{"PLA", "any", "3", "2", "5", "pair.no", "judgement", "", "judgement"}),
		"pair sentence":    fresh().addPair([]string{"PLA", "any", "1", "2", "5", "", "judgement", "", "judgement"}),
		"pair source":      fresh().addPair([]string{"PLA", "any", "1", "2", "5", "pair.no", "nobody", "", "published"}),
		"line material":    fresh().addLine(strings.Split("PLB,,density,1.24,1.22,1.26,g/cm³,,judgement,,judgement", ",")),
		"line value":       fresh().addLine(strings.Split("PLA,,density,1.24,1.22,1.26,kg,,judgement,,judgement", ",")),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	twice := fresh()
	twice.called["pla"] = "other"
	if twice.addName([]string{"PLA", "polylactic acid", ""}) == nil {
		t.Error("one name for two materials: no error")
	}
}

func FuzzRead(f *testing.F) {
	f.Add(header + "\nPLA,,density,1.24,1.22,1.26,g/cm³,23 °C,judgement,,judgement\n")
	f.Add(header + "\nPLA,,glass_transition,60,,,°C,,judgement,,judgement\n")
	f.Add(header + "\nPLA,,crystallinity,95,,,%,,judgement,,judgement\n")
	f.Add("\"")
	f.Fuzz(func(t *testing.T, text string) {
		values, err := Read("fuzz", strings.NewReader(text))
		if err != nil {
			return
		}
		for _, v := range values {
			if err := v.Check(); err != nil {
				t.Errorf("a line loaded that does not hold: %v", err)
			}
		}
	})
}
