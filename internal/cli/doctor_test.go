package cli

import (
	"strings"
	"testing"
	"time"

	"hopperful/internal/say"
	"hopperful/internal/store"
)

// TestTheDoctorTellsASlowClock: a record later than now is a clock that stands, and
// one of this minute is not.
func TestTheDoctorTellsASlowClock(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	env := &Env{Now: func() time.Time { return now }}
	for ahead, ok := range map[time.Duration]bool{-time.Hour: true, time.Minute: true, time.Hour: false, 365 * 24 * time.Hour: false} {
		if e := examineClock(env, store.Verified{Newest: now.Add(ahead)}); e.OK != ok || !ok && e.Advice.Empty() {
			t.Errorf("%v ahead: %+v", ahead, e)
		}
	}
	if e := examineDisk(t.TempDir() + "/none"); !strings.Contains(say.For().Say(e.Say), "cannot be looked at") {
		t.Errorf("a folder that is not there: %+v", e)
	}
}
