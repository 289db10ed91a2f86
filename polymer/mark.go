package polymer

import (
	"fmt"
	"slices"

	"hopperful/source"
)

// Mark says how far a value can be trusted: how it came to stand in the table.
type Mark string

// The marks, most trusted first.
const (
	MeasuredHere Mark = "measured here"   // by the shop, on its own material
	Entered      Mark = "you entered"     // typed by the user, a setting
	Published    Mark = "published"       // seen in the named source
	Computed     Mark = "computed"        // follows from the named source by a formula
	Undated      Mark = "undated page"    // seen on a page of a seller or hobbyist, or in an exercise, without a date
	Practice     Mark = "common practice" // usual in the trade, no source
	Memory       Mark = "from memory"     // remembered by engineers, no source at hand
	Judged       Mark = "judgement"       // an opinion, with a rule where there is one
)

// marks are all of them, in that order: the first wins where values disagree.
var marks = []Mark{MeasuredHere, Entered, Published, Computed, Undated, Practice, Memory, Judged}

// Known reports whether m is one of the marks.
func (m Mark) Known() bool { return slices.Contains(marks, m) }

// read reports whether somebody read the value somewhere, on whatever page.
func (m Mark) read() bool { return m == Published || m == Undated }

// own reports whether the mark is one a shop gives to its own values.
func (m Mark) own() bool { return m == MeasuredHere || m == Entered }

// Fit refuses a source key that cannot stand behind the mark: a published or
// computed value needs a work of the bibliography, one of an undated page such a page,
// the others their own word.
func (m Mark) Fit(key string) error {
	work, listed := source.Lookup(key)
	ok := false
	switch m {
	case Published:
		ok = listed && !work.Undated()
	case Computed:
		ok = listed && !work.Undated() || key == "own derivation"
	case Undated:
		ok = listed && work.Undated()
	case Practice:
		ok = key == string(Practice)+", no source"
	case Memory:
		ok = key == "from memory"
	case Judged:
		ok = key == "judgement"
	case MeasuredHere, Entered:
		ok = key == ""
	}
	if !ok {
		return fmt.Errorf("the source %q does not fit the mark %q", key, m)
	}
	return nil
}
