package notebook

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/shop"
)

// mostTold is of how many lines the trouble is told one by one.
const mostTold = 40

// told is the answer: what would be written, what stands in the way, and every
// line with its fate.
func told(r Result, notes []fact.Saying) answer.Document {
	doc := answer.Document{Head: head(r)}
	for _, want := range []Fate{Refused, Asked} {
		for _, l := range r.Lines {
			if l.Fate == want {
				doc.Spoilers = append(doc.Spoilers, trouble(l)...)
			}
		}
	}
	if more := len(doc.Spoilers) - mostTold; more > 0 {
		doc.Spoilers = append(doc.Spoilers[:mostTold:mostTold], answer.Found(fact.Say("notebook.more", fact.Count("n", more))))
	}
	for _, n := range notes {
		doc.Spoilers = append(doc.Spoilers, answer.Found(n))
	}
	doc.Tables = []answer.Table{table(r)}
	return doc
}

// head is what would be written, or why nothing would.
func head(r Result) answer.Finding {
	known := fact.Parts("known")
	if n := r.Count(Known); n > 0 {
		known = fact.Parts("known", fact.Say("notebook.known_too", fact.Count("n", n)))
	}
	fresh, asked := r.Count(Taken)+r.Count(Asked), r.Count(Asked)
	switch n := r.Count(Refused); {
	case len(r.Lines) == 0:
		return answer.Found(fact.Say("notebook.empty"), fact.Say("notebook.do_template"))
	case n > 0:
		return answer.Found(fact.Say("notebook.refused", fact.Count("n", n), fact.Count("of", len(r.Lines)), known), fact.Say("notebook.do_mend"))
	case fresh == 0:
		return answer.Found(fact.Say("notebook.nothing_new", fact.Count("n", len(r.Lines))))
	case asked > 0:
		return answer.Found(fact.Say("notebook.ready_asked", fact.Count("n", fresh), fact.Count("asked", asked), known), fact.Say("notebook.do_answer"))
	}
	return answer.Found(fact.Say("notebook.ready", fact.Count("n", fresh), known))
}

// trouble is what is wrong with, or asked about, one line.
func trouble(l Judged) []answer.Finding {
	var all []answer.Finding
	for _, w := range l.Wrong {
		f := answer.Found(fact.Say("notebook.line_refused", fact.Parts("place", l.Place), fact.Name("column", w.Column), fact.Parts("what", w.What)))
		if !w.Advice.Empty() {
			f.Remedies = []fact.Saying{w.Advice}
		}
		all = append(all, f)
	}
	for _, q := range l.Asks {
		all = append(all, answer.Finding{Saying: fact.Say("notebook.line_asked", fact.Parts("place", l.Place), fact.Name("column", l.Heads[q.Field]), fact.Parts("what", q.Saying)), Remedies: q.Remedies})
	}
	return all
}

// table is every line with its fate.
func table(r Result) answer.Table {
	t := answer.Table{Key: "notebook_lines", Leads: true, Columns: []answer.Column{{Key: "notebook_place"}, {Key: "notebook_fate"}, {Key: "notebook_when"}, {Key: "notebook_what"}}}
	for _, l := range r.Lines {
		what, when := fact.Verbatim(l.Raw), fact.Name("when", "")
		if l.Record.Body != nil && len(l.Wrong) == 0 {
			what = shop.Describe(l.Record.Body)
		}
		if !l.Record.At.IsZero() {
			when = fact.Moment("when", l.Record.At)
		}
		t.Rows = append(t.Rows, []fact.Fact{fact.Parts("place", l.Place), fate(l), when, fact.Parts("what", what)})
	}
	return t
}

// fate is the word for what becomes of a line.
func fate(l Judged) fact.Fact {
	switch l.Fate {
	case Asked:
		return fact.Word("fate", "notebook.fate_asked")
	case Refused:
		return fact.Word("fate", "notebook.fate_refused")
	case Known:
		return fact.Parts("fate", fact.Say("notebook.fate_known", fact.Count("n", int(l.Was))))
	}
	return fact.Word("fate", "notebook.fate_taken")
}

// Written is the answer once everything is kept: from which record to which.
func Written(r Result, kept []shop.Record) answer.Document {
	doc := r.Document
	if len(r.Lines) == 0 { // of a whole shop
		doc.Head = answer.Found(fact.Say("notebook.whole_written", fact.Count("n", len(kept))))
		return doc
	}
	first, last := kept[0].ID, kept[len(kept)-1].ID
	doc.Head = answer.Found(fact.Say("notebook.written", fact.Count("n", len(kept)), fact.Count("first", int(first)), fact.Count("last", int(last))))
	if r.Count(Asked) > 0 {
		doc.Head.Remedies = []fact.Saying{fact.Say("notebook.do_answer")}
	}
	return doc
}
