package plan

import "hopperful/fact"

// Counted says how many of a run's readings lie in their range, and what foretold
// them: the one sentence about it, wherever a run is told of.
func (c Compared) Counted() fact.Saying {
	inside := 0
	for _, b := range c.Read {
		if b.Inside {
			inside++
		}
	}
	n, in := fact.Count("n", len(c.Read)), fact.Count("inside", inside)
	switch {
	case len(c.Read) == 0:
		return fact.Say("compared.nothing")
	case c.Runs > 0:
		return fact.Say("compared.by_runs", n.As("n"), in.As("inside"), fact.Count("runs", c.Runs))
	}
	return fact.Say("compared.by_books", n.As("n"), in.As("inside"))
}
