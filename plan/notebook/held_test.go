package notebook_test

import (
	"slices"
	"testing"
	"time"

	"hopperful/fact"
	"hopperful/plan/notebook"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// count is the number of a saying's fact.
func count(t *testing.T, s fact.Saying, name string) int {
	t.Helper()
	f, ok := s.Fact(name)
	if !ok {
		t.Errorf("%s says nothing of %s", s.Code, name)
	}
	return int(f.Value)
}

// A line that is written and asked about stands in the head with how many there are, below it
// with the heading its field stood under, and in the table by its own word.
func TestWhatIsAskedIsTold(t *testing.T) {
	t.Parallel()
	later := day.Add(time.Hour)
	odd := func(minutes int) notebook.Line { // of 90 g hardly anything came out of a mill that keeps nothing
		return line("4", minutes, &shop.Ground{From: "S1", Charge: 0.09, Product: shoptest.P(0.001), Run: 60}, nil)
	}
	r := notebook.Of(bin(t), later, []notebook.Line{line("1", 0, ground(0.08), nil), odd(20), line("3", 40, ground(0.08), nil)})
	if fates(r) != "taken asked taken" || r.Count(notebook.Asked) != 1 || len(r.Lines[1].Asks) == 0 {
		t.Fatalf("%q: %+v", fates(r), r.Lines[1].Asks)
	}
	if h := r.Document.Head; h.Code != "notebook.ready_asked" || count(t, h.Saying, "n") != 3 || count(t, h.Saying, "asked") != 1 || len(h.Remedies) != 1 || h.Remedies[0].Code != "notebook.do_answer" {
		t.Errorf("head %+v", h)
	}
	if n := len(r.Document.Spoilers); n != len(r.Lines[1].Asks) || r.Document.Spoilers[0].Code != "notebook.line_asked" {
		t.Errorf("%d spoilers, %d asked", n, len(r.Lines[1].Asks))
	}
	s, err := bin(t).Admit(later, r.Records...)
	if err != nil {
		t.Fatal(err)
	}
	first := s.History.Len() - 3
	kept := []shop.Record{s.History.At(first), s.History.At(first + 1), s.History.At(first + 2)}
	doc := notebook.Written(r, kept)
	if doc.Head.Code != "notebook.written" || count(t, doc.Head.Saying, "n") != 3 || count(t, doc.Head.Saying, "first") != int(kept[0].ID) || count(t, doc.Head.Saying, "last") != int(kept[2].ID) || len(doc.Head.Remedies) != 1 {
		t.Errorf("written: %+v", doc.Head)
	}
	calm := notebook.Of(bin(t), later, []notebook.Line{line("1", 0, ground(0.08), nil)})
	if doc := notebook.Written(calm, kept[:1]); len(doc.Head.Remedies) != 0 {
		t.Errorf("nothing was asked, and yet: %+v", doc.Head)
	}
	if doc := notebook.Written(notebook.Result{}, kept); doc.Head.Code != "notebook.whole_written" || count(t, doc.Head.Saying, "n") != 3 {
		t.Errorf("a whole shop: %+v", doc.Head)
	}
	again := notebook.Of(s, later, []notebook.Line{line("1", 0, ground(0.08), nil), line("2", 50, ground(0.07), nil)})
	if known, _ := again.Document.Head.Fact("known"); again.Document.Head.Code != "notebook.ready" || count(t, again.Document.Head.Saying, "n") != 1 || len(known.Parts) != 1 || count(t, known.Parts[0], "n") != 1 {
		t.Errorf("one known, one new: %+v", again.Document.Head)
	}
	words := []string{}
	for _, l := range [][]fact.Fact{r.Document.Tables[0].Rows[0], r.Document.Tables[0].Rows[1], again.Document.Tables[0].Rows[0]} {
		words = append(words, l[1].Parts[0].Code)
	}
	// A line that is kept is told as the record it is, one that is not as it was written; where no time
	// was read none stands.
	mixed := notebook.Of(bin(t), later, []notebook.Line{line("1", 0, ground(0.08), nil), line("2", 0, &shop.Ground{Charge: 0.08, Run: 60}, nil), {Place: fact.Verbatim("3"), Raw: "???"}}).Document.Tables[0].Rows
	for i, want := range []string{shop.Describe(r.Lines[0].Record.Body).Code, fact.Verbatim("").Code, fact.Verbatim("").Code} {
		if got := mixed[i][3].Parts[0].Code; got != want {
			t.Errorf("line %d is told as %q, wanted %q", i+1, got, want)
		}
	}
	if !mixed[0][2].Time.Equal(day) || !mixed[2][2].Time.IsZero() {
		t.Errorf("times %v and %v", mixed[0][2].Time, mixed[2][2].Time)
	}
	if n := count(t, again.Document.Tables[0].Rows[0][1].Parts[0], "n"); n != int(kept[0].ID) {
		t.Errorf("known as record %d, is %d", n, kept[0].ID)
	}
	if !slices.Equal(words, []string{"notebook.fate_taken", "notebook.fate_asked", "notebook.fate_known"}) {
		t.Errorf("the table says %v", words)
	}
}

// Every record that speaks of one lot finds it by its name, and only what makes a lot may name one that is not there.
func TestEveryRecordFindsItsLotByName(t *testing.T) {
	t.Parallel()
	later := day.Add(time.Hour)
	for name, c := range map[string]struct {
		body  shop.Body
		field string
		lot   func(shop.Body) shop.LotID
	}{
		"weighed":   {&shop.Weighed{Mass: 4}, "lot", func(b shop.Body) shop.LotID { return b.(*shop.Weighed).Lot }},
		"printed":   {&shop.Printed{Print: "cup", Mass: 0.05}, "from", func(b shop.Body) shop.LotID { return b.(*shop.Printed).From }},
		"discarded": {&shop.Discarded{Mass: 0.1}, "lot", func(b shop.Body) shop.LotID { return b.(*shop.Discarded).Lot }},
		"dried":     {&shop.Dried{Way: shop.Oven}, "lot", func(b shop.Body) shop.LotID { return b.(*shop.Dried).Lot }},
		"magnet":    {&shop.PassedMagnet{Passed: shoptest.P(1)}, "lot", func(b shop.Body) shop.LotID { return b.(*shop.PassedMagnet).Lot }},
		"dedusted":  {&shop.Dedusted{Dust: 0.01}, "lot", func(b shop.Body) shop.LotID { return b.(*shop.Dedusted).Lot }},
		"jar":       {&shop.JarWeighed{Jar: 5e-4, Poured: 0.2}, "lot", func(b shop.Body) shop.LotID { return b.(*shop.JarWeighed).Lot }},
		"ground":    {ground(0.08), "from", func(b shop.Body) shop.LotID { return b.(*shop.Ground).From }},
	} {
		l := line("1", 0, c.body, map[string]string{c.field: "FAILED prints"})
		r := notebook.Of(bin(t), later, []notebook.Line{l})
		if got := c.lot(r.Lines[0].Record.Body); got != "S1" || len(r.Lines[0].Wrong) > 0 && r.Lines[0].Wrong[0].What.Code == "notebook.no_such_lot" {
			t.Errorf("%s: %q, %+v", name, got, r.Lines[0].Wrong)
		}
		l.Lots = map[string]string{c.field: "the blue box"}
		l.Record.Body = copied(t, c.body)
		if r := notebook.Of(bin(t), later, []notebook.Line{l}); name != "ground" && (r.Lines[0].Fate != notebook.Refused || r.Lines[0].Wrong[0].What.Code != "notebook.no_such_lot" || r.Lines[0].Wrong[0].Field != c.field) {
			t.Errorf("%s of a lot that is not there: %s %+v", name, r.Lines[0].Fate, r.Lines[0].Wrong)
		}
	}
	// What a run gives may be a lot of a name nobody used before.
	r := notebook.Of(bin(t), later, []notebook.Line{line("1", 0, ground(0.08), map[string]string{"into": "fine black"}), line("2", 9, ground(0.07), map[string]string{"into": "Fine Black"})})
	a, b := r.Lines[0].Record.Body.(*shop.Ground).Into, r.Lines[1].Record.Body.(*shop.Ground).Into
	if fates(r) != "taken taken" || a == "" || a != b {
		t.Errorf("%q: into %q and %q", fates(r), a, b)
	}
}

// copied is the same body without its lots.
func copied(t *testing.T, b shop.Body) shop.Body {
	t.Helper()
	switch b := b.(type) {
	case *shop.Weighed:
		return &shop.Weighed{Mass: b.Mass}
	case *shop.Printed:
		return &shop.Printed{Print: b.Print, Mass: b.Mass}
	case *shop.Discarded:
		return &shop.Discarded{Mass: b.Mass}
	case *shop.Dried:
		return &shop.Dried{Way: b.Way}
	case *shop.PassedMagnet:
		return &shop.PassedMagnet{Passed: b.Passed}
	case *shop.Dedusted:
		return &shop.Dedusted{Dust: b.Dust}
	case *shop.JarWeighed:
		return &shop.JarWeighed{Jar: b.Jar, Poured: b.Poured}
	}
	return b
}

// Of several mills the one is taken whose name is written, however; of several nobody is guessed.
func TestAMillIsFoundByItsName(t *testing.T) {
	t.Parallel()
	later := day.Add(time.Hour)
	two := bin(t, &shop.MillSet{Mill: shop.Mill{Name: "Big  Mill"}})
	named := func(name string) *shop.Ground { g := ground(0.08); g.Mill = name; return g }
	for written, want := range map[string]string{"big mill": "Big  Mill", "BIG MILL": "Big  Mill", "": "", "Nobody": "Nobody"} {
		r := notebook.Of(two, later, []notebook.Line{line("1", 0, named(written), nil)})
		if got := r.Lines[0].Record.Body.(*shop.Ground).Mill; got != want {
			t.Errorf("%q is taken for %q", written, got)
		}
	}
	r := notebook.Of(bin(t), later, []notebook.Line{line("1", 0, &shop.Serviced{}, nil)})
	if got := r.Lines[0].Record.Body.(*shop.Serviced).Mill; got != shoptest.Mill().Name {
		t.Errorf("the only mill is looked after as %q", got)
	}
}

// A whole shop is refused as soon as one of its known records says anything else, and the record is named.
func TestOneDifferenceIsAnotherShop(t *testing.T) {
	t.Parallel()
	s := bin(t)
	var all []shop.Record
	for i := range s.History.Len() {
		all = append(all, s.History.At(i))
	}
	for name, change := range map[string]func(r *shop.Record){
		"number":   func(r *shop.Record) { r.ID += 100 },
		"time":     func(r *shop.Record) { r.At = r.At.Add(time.Second) },
		"noted":    func(r *shop.Record) { r.NotedAt = r.NotedAt.Add(time.Second) },
		"who":      func(r *shop.Record) { r.By += "x" },
		"note":     func(r *shop.Record) { r.Note += "x" },
		"corrects": func(r *shop.Record) { r.Corrects = 99 },
	} {
		for at := range all {
			other := slices.Clone(all)
			change(&other[at])
			r := notebook.Whole(s, day.Add(time.Hour), other)
			if r.Document.Head.Code != "notebook.whole_refused" || count(t, r.Document.Head.Saying, "n") != len(all) || len(r.Document.Spoilers) != 1 || count(t, r.Document.Spoilers[0].Saying, "n") != int(other[at].ID) {
				t.Errorf("%s of record %d: %+v, %+v", name, at, r.Document.Head, r.Document.Spoilers)
			}
		}
	}
	part, err := shop.Fold(all[:1])
	if err != nil {
		t.Fatal(err)
	}
	r := notebook.Whole(part, day.Add(time.Hour), all)
	known, _ := r.Document.Head.Fact("known")
	if r.Document.Head.Code != "notebook.whole_ready" || count(t, r.Document.Head.Saying, "n") != len(all)-1 || len(known.Parts) != 1 || count(t, known.Parts[0], "n") != 1 {
		t.Errorf("onto its first record: %+v", r.Document.Head)
	}
	for at := 1; at < len(all); at++ { // whichever of them is of the future
		late := slices.Clone(all)
		for i := at; i < len(late); i++ {
			late[i].At = day.Add(48 * time.Hour)
		}
		if r := notebook.Whole(part, day.Add(time.Hour), late); r.Document.Head.Code != "notebook.whole_refused" || count(t, r.Document.Spoilers[0].Saying, "n") != int(late[at].ID) {
			t.Errorf("from record %d on of the future: %+v", late[at].ID, r.Document.Spoilers)
		}
	}
}

// What stands in the way is told before what is asked, whichever line comes first; and a lot that a line took
// in under its own name is found by the lines after it, however that name is written.
func TestWhatStandsInTheWayIsToldFirst(t *testing.T) {
	t.Parallel()
	later := day.Add(time.Hour)
	odd := line("1", 0, &shop.Ground{From: "S1", Charge: 0.09, Product: shoptest.P(0.001), Run: 60}, nil)
	r := notebook.Of(bin(t), later, []notebook.Line{odd, line("2", 20, &shop.Ground{Charge: 0.08, Run: 60}, nil)})
	codes := []string{}
	for _, f := range r.Document.Spoilers {
		codes = append(codes, f.Code)
	}
	if fates(r) != "asked refused" || !slices.Equal(codes, []string{"notebook.line_refused", "notebook.line_asked"}) || len(r.Records) != 0 {
		t.Errorf("%q: %v", fates(r), codes)
	}
	in := func(name string) notebook.Line {
		return line("1", 0, &shop.TakenIn{Class: shop.Scrap, Polymer: "PETG", Mass: 1, Name: name}, nil)
	}
	from := func(name string) notebook.Line {
		return line("2", 5, &shop.Ground{Charge: 0.05, Run: 60}, map[string]string{"from": name})
	}
	named := notebook.Of(bin(t), later, []notebook.Line{in("Clear  bits"), from("clear BITS")})
	if fates(named) != "taken taken" || named.Lines[1].Record.Body.(*shop.Ground).From != named.Lines[0].Record.Body.(*shop.TakenIn).Lot {
		t.Errorf("%q: %+v", fates(named), named.Lines[1].Wrong)
	}
	if twice := notebook.Of(bin(t), later, []notebook.Line{in("clear bits"), in("Clear Bits"), from("clear bits")}); fates(twice) != "taken taken refused" || twice.Lines[2].Wrong[0].What.Code != "notebook.several_lots" {
		t.Errorf("two lots of one name: %q, %+v", fates(twice), twice.Lines[2].Wrong)
	}
	if none := notebook.Of(bin(t), later, []notebook.Line{in(""), from(" ")}); none.Lines[1].Fate != notebook.Refused {
		t.Errorf("a lot without a name is found by none: %q", fates(none))
	}
}
