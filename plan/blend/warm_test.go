package blend_test

import (
	"context"
	"errors"
	"reflect"
	"sync"
	"testing"

	"hopperful/plan/blend"
)

// A shelf known ahead answers as one that is not, also while it is still being gone
// over.
func TestAShelfKnownAheadAnswersTheSame(t *testing.T) {
	t.Parallel()
	s := fullShelf(t, 60)
	req := allLimits(blend.OldFirst)
	want := find(t, s, req)
	h, err := blend.NewShelf(s)
	if err != nil {
		t.Fatal(err)
	}
	var all sync.WaitGroup
	all.Go(func() {
		if err := h.Warm(t.Context()); err != nil {
			t.Error(err)
		}
	})
	for range 3 {
		all.Go(func() {
			got, err := h.Find(t.Context(), req)
			if err != nil || !reflect.DeepEqual(want, got) {
				t.Errorf("%v: it says %v, want %v", err, got.Says, want.Says)
			}
		})
	}
	all.Wait()
	over, end := context.WithCancel(t.Context())
	end()
	if err := h.Warm(over); !errors.Is(err, context.Canceled) {
		t.Errorf("told to stop, it says %v", err)
	}
}

// What a known shelf saves the first question.
func BenchmarkWarm(b *testing.B) {
	s := fullShelf(b, 1000)
	b.Run("at the start", func(b *testing.B) {
		for b.Loop() {
			h, err := blend.NewShelf(s)
			if err == nil {
				err = h.Warm(b.Context())
			}
			if err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("after a record", func(b *testing.B) {
		h, err := blend.NewShelf(s)
		if err == nil {
			err = h.Warm(b.Context())
		}
		for b.Loop() {
			if err == nil {
				h, err = h.After(s)
			}
			if err == nil {
				err = h.Warm(b.Context())
			}
		}
		if err != nil {
			b.Fatal(err)
		}
	})
}
