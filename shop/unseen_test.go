package shop

import (
	"errors"
	"testing"
	"time"
)

// TestNamesHoldNoBidirectionalControls: each of the twelve of Unicode Standard
// Annex 9, in any name, and none of them keeps an old record from being read.
func TestNamesHoldNoBidirectionalControls(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	s, err := Fold(nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069" {
		name := "Ann" + string(c) + "a"
		for field, r := range map[string]Record{
			"name":      {Body: &PersonSet{Name: name}},
			"by":        {By: name, Body: &PersonSet{Name: "Ada"}},
			"mill.name": {Body: &MillSet{Mill: Mill{Name: name}}},
		} {
			var refused *Error
			if _, err := s.Admit(now, r); !errors.As(err, &refused) || refused.Field != field {
				t.Errorf("%U in %s: %v", c, field, err)
			}
		}
		old := Record{ID: 1, At: now, NotedAt: now, Body: &PersonSet{Name: name}}
		if _, err := Fold([]Record{old}); err != nil {
			t.Errorf("%U in an old record: %v", c, err)
		}
		if _, err := s.Admit(now, Record{Note: name, Body: &PersonSet{Name: "Ada"}}); err != nil {
			t.Errorf("%U in a note: %v", c, err)
		}
	}
}
