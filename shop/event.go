package shop

import "hopperful/fact"

// Happened is something that went wrong at a mill or a printer.
type Happened struct {
	What    Mishap   `json:"what"`
	Mill    string   `json:"mill,omitempty"`
	Printer string   `json:"printer,omitempty"`
	Lot     LotID    `json:"lot,omitempty"`      // that was in it
	Since   *float64 `json:"since_kg,omitempty"` // went through since it last happened
}

// Mishap is what can go wrong.
type Mishap string

// What can go wrong.
const (
	Stalled       Mishap = "stalled"
	BlockedNozzle Mishap = "blocked nozzle"
	BridgedHopper Mishap = "bridged hopper"
	TornScreen    Mishap = "torn screen"
	CrackedPlate  Mishap = "cracked plate"
	SmellOrSmoke  Mishap = "smell or smoke"
	OtherMishap   Mishap = "other"
)

// Kind is "happened".
func (*Happened) Kind() string { return "happened" }

func (b *Happened) check(s *State, r Record) error {
	if b.Mill != "" {
		if _, err := s.millNamed(b.Mill); err != nil {
			return err
		}
	}
	if b.Printer != "" {
		if err := s.printerNamed(b.Printer, "printer"); err != nil {
			return err
		}
	}
	if b.Lot != "" {
		if _, err := s.lotNamed(b.Lot, "lot"); err != nil {
			return err
		}
	}
	switch {
	case b.What == BlockedNozzle && b.Printer == "":
		return invalid("printer", fact.Say("shop.nozzle_only_at_printer"), fact.Say("shop.do_say_printer"))
	case (b.What == TornScreen || b.What == CrackedPlate) && b.Mill == "":
		return invalid("mill", fact.Say("shop.mishap_only_at_mill", fact.Name("what", string(b.What))), fact.Say("shop.do_say_mill"))
	case b.Mill == "" && b.Printer == "":
		return invalid("mill", fact.Say("shop.record_without_machine"), fact.Say("shop.do_say_where"))
	case b.What == OtherMishap && r.Note == "":
		return invalid("note", fact.Say("shop.record_without_event"), fact.Say("shop.do_write_note"))
	}
	return nil
}

func (b *Happened) apply(s *State, r Record) {
	if b.Lot != "" {
		s.change(b.Lot).note(r.ID)
	}
}

// EventsAt are what happened at a mill or printer of that name, the newest first.
func (s *State) EventsAt(machine string) []Entry[*Happened] {
	return entries(s, func(b *Happened) bool { return b.Mill == machine || b.Printer == machine })
}

// EventsWith are what happened with a lot, the newest first.
func (s *State) EventsWith(id LotID) []Entry[*Happened] {
	return ofLot(s, id, func(b *Happened) bool { return b.Lot == id })
}
