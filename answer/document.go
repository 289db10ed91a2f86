package answer

import (
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/shop"
)

// Document is the answer to one question, whatever the room. The edges have one
// printer and one template for it; nothing in it is a sentence.
type Document struct {
	Head     Finding         // the answer
	Verdict  Verdict         // how sure it is; "" where that is not the question
	Steps    []Action        // what to do, in order
	Spoilers []Finding       // what could spoil it, worst first, each with its remedies
	Cautions []Finding       // what can hurt someone; the code says where
	Figures  []figure.Figure // the handful a person acts on
	Limits   []Bound         // what the answer is held against
	Tables   []Table
	Charts   []Chart
	Reasons  []Section // everything else, folded until someone asks
}

// Finding is one thing found, with what would change it.
type Finding struct {
	fact.Saying
	Lots     []shop.LotID
	Weight   float64 // 0–1, the higher the more it matters
	Remedies []fact.Saying
}

// Found makes a finding.
func Found(s fact.Saying, remedies ...fact.Saying) Finding {
	return Finding{Saying: s, Remedies: remedies}
}

// Action is one thing to do. Its code tells the edges which page or command it is
// done with.
type Action struct {
	Do    fact.Saying
	Why   fact.Saying    // may be empty
	Takes *figure.Figure // its time, where that is known
}

// Bound is a figure with its limit, and what the limit does to the answer.
type Bound struct {
	Figure figure.Figure
	Binds  bool        // relaxing it would change the answer
	Relax  fact.Saying // what relaxing it a little would bring; may be empty
}

// Table is rows of facts under headings. The heading of a column is the line
// "column.<key>", the title "table.<key>".
type Table struct {
	Key     string
	Leads   bool // it is the answer, shown before anyone asks for more
	Columns []Column
	Rows    [][]fact.Fact // their names do not matter
	Notes   []fact.Saying // below it
}

// Column is one column of a table.
type Column struct {
	Key     string
	Numbers bool // set flush right
}

// Section is a part of the reasons under a title, the line "section.<key>".
type Section struct {
	Key     string
	Notes   []fact.Saying
	Figures []figure.Figure
	Tables  []Table
}

// Lot is a lot as a fact.
func Lot(name string, lot *shop.Lot) fact.Fact { return fact.Lot(name, string(lot.ID), lot.Name) }
