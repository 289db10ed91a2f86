// Package notebook says what becomes of each line of a notebook of past work
// before any of it is written down.
package notebook

import (
	"errors"
	"slices"
	"strings"
	"time"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/plausibility"
	"hopperful/shop"
)

// Line is one line of a notebook, as far as it could be read.
type Line struct {
	Place  fact.Saying       // "line 7", "row 7" of a sheet
	Raw    string            // as it was written, for who looks at the paper
	Record shop.Record       // without its lots that were written by name, and nil inside where nothing could be read
	Lots   map[string]string // those, by the field of the record
	Heads  map[string]string // the heading each field of the record stood under
	Wrong  []Wrong           // what could not be read
}

// Wrong is what is wrong with one field.
type Wrong struct {
	Field  string // of the record; "" for the line
	Column string // the heading it stands under; may be empty
	What   fact.Saying
	Advice fact.Saying
	lot    bool // a lot is not there
}

// Fate is what becomes of a line.
type Fate string

// The fates.
const (
	Taken   Fate = "taken"
	Asked   Fate = "asked"   // taken, and asked about
	Known   Fate = "known"   // it is in the shop already
	Refused Fate = "refused" // and with it the whole notebook
)

// Judged is a line with its fate.
type Judged struct {
	Line
	Fate Fate
	Was  shop.RecordID // that says the same; 0 for none
	Asks []plausibility.Question
}

// Result is the answer, and what to write down: all of it, or nothing.
type Result struct {
	Document answer.Document
	Lines    []Judged
	Records  []shop.Record // in the order of the lines; nil when a line is refused
}

// Count is how many lines have that fate.
func (r Result) Count(f Fate) int {
	n := 0
	for _, j := range r.Lines {
		if j.Fate == f {
			n++
		}
	}
	return n
}

// Of judges a notebook at the moment now. Notes are about the notebook as a whole.
func Of(s *shop.State, now time.Time, lines []Line, notes ...fact.Saying) Result {
	j := &job{state: s, names: lotNames(s), labels: s.Labels(), used: map[shop.RecordID]bool{}, last: map[shop.LotID]shop.LotID{}}
	for _, l := range lines {
		j.lines = append(j.lines, j.read(l))
	}
	j.try(now)
	r := Result{Lines: j.lines}
	if r.Count(Refused) == 0 {
		for _, l := range j.lines {
			if l.Fate != Known {
				r.Records = append(r.Records, l.Record)
			}
		}
	}
	r.Document = told(r, notes)
	return r
}

// job is a notebook on its way.
type job struct {
	state  *shop.State
	lines  []Judged
	names  map[string][]shop.LotID // lots by what people call them
	labels *shop.Labels
	used   map[shop.RecordID]bool // records that a line was found to be
	last   map[shop.LotID]shop.LotID
}

// lotNames are the lots of a shop by their names.
func lotNames(s *shop.State) map[string][]shop.LotID {
	names := map[string][]shop.LotID{}
	for _, id := range s.Order {
		if n := fold(s.Lots.At(id).Name); n != "" {
			names[n] = append(names[n], id)
		}
	}
	return names
}

func fold(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// read finds the lots and the mill of a line, and whether it is known.
func (j *job) read(l Line) Judged {
	out := Judged{Line: l, Fate: Taken}
	if l.Record.Body == nil || len(l.Wrong) > 0 {
		out.Fate = Refused
		return out
	}
	labelled := map[string]bool{} // lots the line itself names by label
	for _, field := range []string{"lot", "into"} {
		if at := place(l.Record.Body, field); at != nil && *at != "" {
			labelled[field] = true
		}
	}
	j.mill(&out)
	for _, field := range []string{"from", "lot", "into"} {
		if l.Lots[field] != "" {
			j.resolve(&out, field)
		}
	}
	j.follow(&out)
	if len(out.Wrong) > 0 {
		out.Fate = Refused
		return out
	}
	for _, id := range j.state.Same(open(out.Record, labelled)) {
		if !j.used[id] {
			j.used[id], out.Was, out.Fate = true, id, Known
			was, _ := j.state.Written(id)
			out.Record.Body = was.Body
			break
		}
	}
	if out.Fate != Known {
		out.Record.Body = j.labels.Fill(out.Record.Body)
	}
	j.remember(&out)
	return out
}

// open is a record without the lots it makes whose labels nobody wrote: which ones
// it was given, when it was written down before, is not to be guessed from the lines
// above it.
func open(r shop.Record, labelled map[string]bool) shop.Record {
	switch b := r.Body.(type) {
	case *shop.TakenIn:
		c := *b
		if r.Body = &c; !labelled["lot"] {
			c.Lot = ""
		}
	case *shop.Ground:
		c := *b
		if r.Body = &c; !labelled["into"] {
			c.Into = ""
		}
	case *shop.Printed:
		c := *b
		if r.Body = &c; !labelled["into"] {
			c.Into = ""
		}
	}
	return r
}

// mill finds the mill: the only one where none is named.
func (j *job) mill(out *Judged) {
	var at *string
	switch b := out.Record.Body.(type) {
	case *shop.Ground:
		at = &b.Mill
	case *shop.Serviced:
		at = &b.Mill
	default:
		return
	}
	if active := j.state.ActiveMills(); *at == "" && len(active) == 1 {
		*at = active[0].Name
		return
	}
	for _, m := range j.state.Mills {
		if fold(m.Name) == fold(*at) {
			*at = m.Name
		}
	}
}

// place is where a body keeps the lot of a field.
func place(b shop.Body, field string) *shop.LotID {
	switch b := b.(type) {
	case *shop.TakenIn:
		return map[string]*shop.LotID{"lot": &b.Lot}[field]
	case *shop.Ground:
		return map[string]*shop.LotID{"from": &b.From, "into": &b.Into}[field]
	case *shop.Weighed:
		return map[string]*shop.LotID{"lot": &b.Lot}[field]
	case *shop.Printed:
		return map[string]*shop.LotID{"from": &b.From, "into": &b.Into}[field]
	case *shop.Discarded:
		return map[string]*shop.LotID{"lot": &b.Lot}[field]
	case *shop.Dried:
		return map[string]*shop.LotID{"lot": &b.Lot}[field]
	case *shop.PassedMagnet:
		return map[string]*shop.LotID{"lot": &b.Lot}[field]
	case *shop.Dedusted:
		return map[string]*shop.LotID{"lot": &b.Lot}[field]
	case *shop.JarWeighed:
		return map[string]*shop.LotID{"lot": &b.Lot}[field]
	}
	return nil
}

// makes reports whether a lot of that field may be one that is not there yet.
func makes(b shop.Body, field string) bool {
	_, in := b.(*shop.TakenIn)
	return in || field == "into"
}

// resolve puts the lot in place that a line calls by its name.
func (j *job) resolve(out *Judged, field string) {
	at, name := place(out.Record.Body, field), out.Lots[field]
	if at == nil {
		return
	}
	wrong := func(what, advice fact.Saying) {
		out.Wrong = append(out.Wrong, Wrong{Field: field, Column: out.Heads[field], What: what, Advice: advice})
	}
	switch ids := j.names[fold(name)]; {
	case len(ids) == 1:
		*at = ids[0]
	case len(ids) > 1:
		var labels []string
		for _, id := range ids {
			labels = append(labels, string(id))
		}
		wrong(fact.Say("notebook.several_lots", fact.Name("name", name), fact.Names("labels", labels)), fact.Say("notebook.do_label"))
	case !makes(out.Record.Body, field):
		wrong(fact.Say("notebook.no_such_lot", fact.Name("name", name)), fact.Say("notebook.do_take_in"))
	}
	if b, ok := out.Record.Body.(*shop.TakenIn); ok && b.Name == "" {
		b.Name = name // also of more of it, so that the line is known again
	}
}

// follow takes a run whose product's lot nobody named into the lot that the run
// before from the same lot went into.
func (j *job) follow(out *Judged) {
	b, ok := out.Record.Body.(*shop.Ground)
	if !ok {
		return
	}
	if b.From == "" && out.Lots["from"] == "" {
		out.Wrong = append(out.Wrong, Wrong{Field: "from", What: fact.Say("notebook.no_from"), Advice: fact.Say("notebook.do_from")})
	}
	if b.Into == "" && out.Lots["into"] == "" {
		b.Into = j.last[b.From]
	}
}

// remember keeps the lots a line made for the lines that follow.
func (j *job) remember(out *Judged) {
	for field, name := range out.Lots {
		if at := place(out.Record.Body, field); at != nil && *at != "" && j.names[fold(name)] == nil {
			j.names[fold(name)] = []shop.LotID{*at}
		}
	}
	switch b := out.Record.Body.(type) {
	case *shop.TakenIn:
		if n := fold(b.Name); n != "" && !slices.Contains(j.names[n], b.Lot) {
			j.names[n] = append(j.names[n], b.Lot)
		}
	case *shop.Ground:
		j.last[b.From] = b.Into
	}
}

// try holds all lines that are new against the shop, together.
func (j *job) try(now time.Time) {
	var at []int
	var records []shop.Record
	for i, l := range j.lines {
		if l.Fate == Taken {
			at, records = append(at, i), append(records, l.Record)
		}
	}
	after, tried, refused, err := j.state.Try(now, records...)
	for k, i := range at {
		l := &j.lines[i]
		switch {
		case refused[k] != nil:
			l.Fate, l.Wrong = Refused, append(l.Wrong, j.missing(l, l.wrongs(refused[k]))...)
		case err != nil: // which of them it is nobody can tell
			l.Fate, l.Wrong = Refused, append(l.Wrong, l.wrongs(err)...)
		default:
			if l.Asks = plausibility.Of(after, tried[k].ID); len(l.Asks) > 0 {
				l.Fate = Asked
			}
		}
	}
}

// missing says of a lot that is not there at that time whether it came later: who
// copies an old notebook has often taken in what is left of the bin today.
func (j *job) missing(l *Judged, all []Wrong) []Wrong {
	for i, w := range all {
		at := place(l.Record.Body, w.Field)
		if !w.lot || at == nil || *at == "" {
			continue
		}
		all[i].What, all[i].Advice = fact.Say("notebook.no_such_lot", fact.Name("name", string(*at))), fact.Say("notebook.do_take_in")
		if lot, ok := j.state.Lot(*at); ok {
			if born, ok := j.state.Record(lot.Born); ok && born.At.After(l.Record.At) {
				all[i].What, all[i].Advice = fact.Say("notebook.came_later", fact.Name("name", string(*at)), fact.Moment("when", born.At)), fact.Say("notebook.do_take_in_then")
			}
		}
	}
	return all
}

// wrongs are the refusals of a record, each with the heading it stands under.
func (l *Judged) wrongs(err error) []Wrong {
	var many shop.Faults
	var one *shop.Error
	switch {
	case errors.As(err, &many):
	case errors.As(err, &one):
		many = shop.Faults{one}
	default:
		return []Wrong{{What: shop.WhyNot(err)}}
	}
	var all []Wrong
	for _, e := range many {
		all = append(all, Wrong{Field: e.Field, Column: l.Heads[e.Field], What: e.What, Advice: e.Advice, lot: e.Code == shop.NotFound})
	}
	return all
}
