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
		return invalid("cuts_kg", fact.Say("shop.a_load_and_cuts_belong"), fact.Say("shop.write_the_two_tests_down"))
	case b.Extruded == nil:
		return invalid("extruded_kg", fact.Say("shop.the_test_does_not_say"), fact.Say("shop.weigh_what_the_nozzle_gave"))
	case b.Time == nil:
		return invalid("time_s", fact.Say("shop.the_test_does_not_say_how"), fact.Say("shop.a_minute_by_the_watch"))
	case b.Screw == nil && b.Temperature == nil:
		return invalid("screw_rad_s", fact.Say("shop.the_test_names_neither_the"), fact.Say("shop.give_at_least_one_of"))
	}
	return nil
}

// checkCuts refuses a melt-flow test that says too little or too much.
func (b *FlowTested) checkCuts() error {
	switch {
	case b.Screw != nil || b.Extruded != nil || b.Time != nil:
		return invalid("printer", fact.Say("shop.the_test_names_no_printer"), fact.Say("shop.name_the_printer_or_give"))
	case len(b.Cuts) == 0:
		return invalid("cuts_kg", fact.Say("shop.the_test_has_neither_a"), fact.Say("shop.name_the_printer_or_give_the"))
	case b.CutTime == nil:
		return invalid("cut_s", fact.Say("shop.flow_no_time"), fact.Say("shop.give_the_time_between_two"))
	case b.Load == nil:
		return invalid("load_kg", fact.Say("shop.flow_no_load"), fact.Say("shop.2_16_kg_is_usual"))
	case b.Temperature == nil:
		return invalid("temperature_k", fact.Say("shop.flow_no_heat"), fact.Say("shop.a_rate_means_nothing_without"))
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
