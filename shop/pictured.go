package shop

import (
	"bytes"
	"encoding/base64"
	"hopperful/fact"
)

// Pictured is a photograph of a lot, or of what a record is about: a heap, a part
// that broke, a scale that shows what was weighed. What it shows stands in the note.
type Pictured struct {
	Lot     LotID    `json:"lot,omitempty"`
	Record  RecordID `json:"record,omitempty"`      // it belongs to
	Picture string   `json:"picture" text:"160000"` // JPEG in base64
}

// How many photographs there may be: of one lot or record, and in the shop, all of
// which is held in memory. Judgement: a shop of them takes sixty megabytes.
const (
	mostPictured = 12
	mostAlbum    = 400
)

// Kind is "pictured".
func (*Pictured) Kind() string { return "pictured" }

// JPEG is the photograph; nil when it is none, which is refused when it is written.
func (b *Pictured) JPEG() []byte {
	jpeg, err := base64.StdEncoding.DecodeString(b.Picture)
	if err != nil || !bytes.HasPrefix(jpeg, []byte{0xff, 0xd8, 0xff}) {
		return nil
	}
	return jpeg
}

func (b *Pictured) check(s *State, r Record) error {
	if b.Lot == "" && b.Record == 0 {
		return invalid("lot", fact.Say("shop.picture_of_nothing"), fact.Say("shop.do_say_what_it_shows"))
	}
	if b.Lot != "" {
		if _, err := s.lotNamed(b.Lot, "lot"); err != nil {
			return err
		}
	}
	if b.Record != 0 && (b.Record >= r.ID || s.written(b.Record) < 0) {
		return &Error{Code: NotFound, Field: "record", What: fact.Say("shop.no_record", fact.Count("record", int(b.Record)))}
	}
	if b.JPEG() == nil {
		return invalid("picture", fact.Say("shop.photograph_not_jpeg"), fact.Say("shop.send_it_again"))
	}
	of := s.pictured[picturedOf{b.Lot, b.Record}]
	if of >= mostPictured {
		return invalid("picture", fact.Say("shop.enough_photographs", fact.Count("of", of)), fact.Say("shop.do_strike_one"))
	}
	if s.album >= mostAlbum {
		return invalid("picture", fact.Say("shop.album_full", fact.Count("album", s.album)), fact.Say("shop.do_strike_unneeded"))
	}
	return nil
}

func (b *Pictured) apply(s *State, r Record) {
	if s.pictured == nil {
		s.pictured = map[picturedOf]int{}
	}
	s.pictured[picturedOf{b.Lot, b.Record}]++
	s.album++
	if b.Lot != "" {
		s.change(b.Lot).note(r.ID)
	}
}

// picturedOf is what a photograph belongs to.
type picturedOf struct {
	lot    LotID
	record RecordID
}

// PicturesOf are the photographs of a lot, or of a record, the newest first.
func (s *State) PicturesOf(lot LotID, record RecordID) []Entry[*Pictured] {
	return entries(s, func(b *Pictured) bool { return lot != "" && b.Lot == lot || record != 0 && b.Record == record })
}
