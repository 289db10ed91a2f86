package shop

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
		return invalid("cuts_kg", "A load and cuts belong to a melt-flow test, not to a test at a printer.", "Write the two tests down as two records.")
	case b.Extruded == nil:
		return invalid("extruded_kg", "The test does not say how much came out.", "Weigh what the nozzle gave.")
	case b.Time == nil:
		return invalid("time_s", "The test does not say how long the printer ran.", "A minute by the watch is enough.")
	case b.Screw == nil && b.Temperature == nil:
		return invalid("screw_rad_s", "The test names neither the speed of the screw nor a temperature.", "Give at least one of them.")
	}
	return nil
}

// checkCuts refuses a melt-flow test that says too little or too much.
func (b *FlowTested) checkCuts() error {
	const named = " does not say "
	switch {
	case b.Screw != nil || b.Extruded != nil || b.Time != nil:
		return invalid("printer", "The test names no printer.", "Name the printer, or give the load and the cuts of a melt-flow test.")
	case len(b.Cuts) == 0:
		return invalid("cuts_kg", "The test has neither a printer nor cuts.", "Name the printer, or give the masses of the cuts.")
	case b.CutTime == nil:
		return invalid("cut_s", "The melt-flow test"+named+"how long each cut ran.", "Give the time between two cuts.")
	case b.Load == nil:
		return invalid("load_kg", "The melt-flow test"+named+"which mass pressed on the melt.", "2.16 kg is usual.")
	case b.Temperature == nil:
		return invalid("temperature_k", "The melt-flow test"+named+"how hot the melt was.", "A rate means nothing without it.")
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
