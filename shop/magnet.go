package shop

import (
	"hopperful/fact"
	"slices"
)

// PassedMagnet is a lot, or some of it, let run over a magnet. The metal caught
// leaves the lot.
type PassedMagnet struct {
	Lot    LotID    `json:"lot"`
	Run    RecordID `json:"run,omitempty"`       // the run of the mill it came out of; 0: not said
	Metal  float64  `json:"metal_kg"`            // caught; 0: none seen
	Passed *float64 `json:"passed_kg,omitempty"` // let run over; nil: not weighed
}

// Kind is "passed_magnet".
func (*PassedMagnet) Kind() string { return "passed_magnet" }

func (b *PassedMagnet) check(s *State, _ Record) error {
	l, err := s.lotNamed(b.Lot, "lot")
	if err != nil {
		return err
	}
	if err := s.cameFrom(l, b.Run); err != nil {
		return err
	}
	if b.Passed != nil {
		if b.Metal > *b.Passed {
			return invalid("metal_kg", fact.Say("shop.metal_over_passed", fact.Weighed("metal", b.Metal), fact.Weighed("passed", *b.Passed)), fact.Say("shop.do_check_units"))
		}
	}
	return nil
}

func (b *PassedMagnet) apply(s *State, r Record) {
	s.take(r, b.Lot, b.Metal)
	s.lose(r, MetalCaught, b.Lot, b.Metal)
}

// MagnetPasses are the times a lot was let over the magnet, the newest first.
func (s *State) MagnetPasses(id LotID) []Entry[*PassedMagnet] {
	return ofLot(s, id, func(b *PassedMagnet) bool { return b.Lot == id })
}

// cameFrom refuses a run of a mill out of which nothing of the lot came; 0 is
// no run.
func (s *State) cameFrom(l *Lot, run RecordID) error {
	if run == 0 {
		return nil
	}
	ground := slices.ContainsFunc(s.Mills, func(m MillState) bool { return slices.Contains(m.Runs, run) })
	if !ground {
		return &Error{Code: NotFound, Field: "run", What: fact.Say("shop.record_is_no_run", fact.Count("run", int(run))),
			Advice: fact.Say("shop.do_name_run")}
	}
	if !slices.Contains(l.Records, run) {
		return conflict("run", fact.Say("shop.run_into_other_lot", fact.Count("run", int(run)), fact.Name("id", string(l.ID))), fact.Say("shop.do_check_or_no_run"))
	}
	return nil
}
