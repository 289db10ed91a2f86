package shop

import (
	"encoding/base64"
	"strings"
	"testing"
)

// A photograph belongs to a lot or a record that is there, is a JPEG, and there are
// so many of each at the most; one struck out makes room.
func TestPictured(t *testing.T) {
	t.Parallel()
	jpeg := base64.StdEncoding.EncodeToString([]byte{0xff, 0xd8, 0xff, 0xe0, 1})
	s := mustFold(t, []Record{{At: monday, Body: &TakenIn{Class: Scrap, Mass: 1}}})
	for name, c := range map[string]struct {
		b    Pictured
		says string
	}{
		"of nothing":  {Pictured{Picture: jpeg}, "belongs to no lot and no record"},
		"no such lot": {Pictured{Lot: "R9", Picture: jpeg}, "There is no lot R9"},
		"to nothing":  {Pictured{Record: 9, Picture: jpeg}, "There is no record 9"},
		"to itself":   {Pictured{Record: 2, Picture: jpeg}, "There is no record 2"},
		"no JPEG":     {Pictured{Lot: "S1", Picture: base64.StdEncoding.EncodeToString([]byte("GIF89a"))}, "is no JPEG"},
		"no text":     {Pictured{Lot: "S1", Picture: "%"}, "is no JPEG"},
		"too large":   {Pictured{Lot: "S1", Picture: strings.Repeat("A", 160001)}, "160000 fit"},
	} {
		if _, err := s.With(Record{At: monday, Body: &c.b}); err == nil || !strings.Contains(inWords(err), c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for range mostPictured {
		s = write(t, s, Record{At: monday, Body: &Pictured{Lot: "S1", Record: 1, Picture: jpeg}})
	}
	full := Record{At: monday, Body: &Pictured{Lot: "S1", Record: 1, Picture: jpeg}}
	if _, err := s.With(full); err == nil || !strings.Contains(inWords(err), "12 photographs of it already") {
		t.Errorf("one more is kept: %v", err)
	}
	s = write(t, s, Record{At: monday, Body: &Pictured{Lot: "S1", Picture: jpeg}})
	s = write(t, s, Record{Corrects: 5, Body: &Void{Why: "blurred"}})
	s = write(t, s, full)
	if n := len(s.PicturesOf("S1", 0)); n != mostPictured+1 {
		t.Errorf("%d photographs of the lot", n)
	}
	if n := len(s.PicturesOf("", 1)); n != mostPictured {
		t.Errorf("%d photographs to the record", n)
	}
	if got := worded(Describe(full.Body)); got != "took a photograph of S1, to record 1" {
		t.Errorf("told as %q", got)
	}
}
