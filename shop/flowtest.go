package shop

import "hopperful/fact"

// FlowTested is what a lot's melt gave in a time: out of a printer's nozzle at
// a screw speed or a temperature, or as timed cuts of a melt-flow test under a
// load. What was extruded leaves the lot.
type FlowTested struct {
	Lot         LotID     `json:"lot"`
	Printer     string    `json:"printer,omitempty"` // empty: a melt-flow test
	Temperature *float64  `json:"temperature_k,omitempty"`
	Screw       *float64  `json:"screw_rad_s,omitempty"`
	Time        *float64  `json:"time_s,omitempty"`      // the printer ran
	Extruded    *float64  `json:"extruded_kg,omitempty"` // in that time
	Load        *float64  `json:"load_kg,omitempty"`     // on the piston, piston included
	CutTime     *float64  `json:"cut_s,omitempty"`       // between two cuts
	Cuts        []float64 `json:"cuts_kg,omitempty"`     // their masses, in order
}

// Kind is "flow_tested".
func (*FlowTested) Kind() string { return "flow_tested" }

func (b *FlowTested) check(s *State, _ Record) error {
	_, err := s.lotNamed(b.Lot, "lot")
	if err != nil {
		return err
	}
	if b.Printer == "" {
		err = b.checkCuts()
	} else {
		err = b.checkPrinter(s)
	}
	return err
}

// checkPrinter refuses a test at a printer that says too little or too much.
func (b *FlowTested) checkPrinter(s *State) error {
	if err := s.printerNamed(b.Printer, "printer"); err != nil {
		return err
	}
	switch {
	case b.Load != nil || b.CutTime != nil || len(b.Cuts) > 0:
		return invalid("cuts_kg", fact.Say("shop.cuts_need_flow_test"), fact.Say("shop.do_two_tests"))
	case b.Extruded == nil:
		return invalid("extruded_kg", fact.Say("shop.test_without_mass"), fact.Say("shop.do_weigh_melt"))
	case b.Time == nil:
		return invalid("time_s", fact.Say("shop.test_without_time"), fact.Say("shop.do_time_a_minute"))
	case b.Screw == nil && b.Temperature == nil:
		return invalid("screw_rad_s", fact.Say("shop.test_without_settings"), fact.Say("shop.do_give_one"))
	}
	return nil
}

// checkCuts refuses a melt-flow test that says too little or too much.
func (b *FlowTested) checkCuts() error {
	switch {
	case b.Screw != nil || b.Extruded != nil || b.Time != nil:
		return invalid("printer", fact.Say("shop.test_of_no_printer"), fact.Say("shop.do_printer_or_cuts"))
	case len(b.Cuts) == 0:
		return invalid("cuts_kg", fact.Say("shop.test_without_printer"), fact.Say("shop.do_printer_or_masses"))
	case b.CutTime == nil:
		return invalid("cut_s", fact.Say("shop.flow_no_time"), fact.Say("shop.do_give_cut_time"))
	case b.Load == nil:
		return invalid("load_kg", fact.Say("shop.flow_no_load"), fact.Say("shop.do_usual_load"))
	case b.Temperature == nil:
		return invalid("temperature_k", fact.Say("shop.flow_no_heat"), fact.Say("shop.rate_needs_it"))
	}
	return nil
}

// Spent is the mass the test took out of the lot [kg].
func (b *FlowTested) Spent() float64 {
	sum := value(b.Extruded)
	for _, m := range b.Cuts {
		sum += m
	}
	return sum
}

func (b *FlowTested) apply(s *State, r Record) {
	s.take(r, b.Lot, b.Spent())
	s.lose(r, TestExtruded, b.Lot, b.Spent())
}

// FlowTests are the flow tests of a lot, the newest first.
func (s *State) FlowTests(id LotID) []Entry[*FlowTested] {
	return ofLot(s, id, func(b *FlowTested) bool { return b.Lot == id })
}

// FlowTestsOn are the flow tests at a printer, the newest first.
func (s *State) FlowTestsOn(printer string) []Entry[*FlowTested] {
	return entries(s, func(b *FlowTested) bool { return b.Printer == printer })
}
