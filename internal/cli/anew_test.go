package cli

import (
	"bytes"
	"testing"
	"time"
)

// TestALongReadingIsTold: not within the first second, then again and again in one line of a
// terminal that goes away, and once in a log.
func TestALongReadingIsTold(t *testing.T) {
	t.Parallel()
	const first, second = "shop.db is read anew, as after an upgrade: 2 records so far", "shop.db is read anew, as after an upgrade: 3 records so far"
	for terminal, want := range map[bool]string{true: "\r" + first + "\x1b[K\r" + second + "\x1b[K\r\x1b[K", false: first + "\n"} {
		var errs bytes.Buffer
		now := time.Unix(0, 0)
		env := &Env{Err: &errs, ErrTerminal: terminal, Now: func() time.Time { return now }, Getenv: func(string) string { return "" }}
		told, done := readingAnew(env, "shop.db")
		for n, after := range []time.Duration{0, 999, 1000, 1100} {
			now = time.Unix(0, 0).Add(after * time.Millisecond)
			told(n)
		}
		done()
		if got := errs.String(); got != want {
			t.Errorf("terminal %v: %q, not %q", terminal, got, want)
		}
	}
	var quiet bytes.Buffer
	env := &Env{Err: &quiet, ErrTerminal: true, Now: time.Now, Getenv: func(string) string { return "" }}
	if _, done := readingAnew(env, "shop.db"); done != nil {
		done()
	}
	if quiet.Len() > 0 {
		t.Errorf("a short reading said %q", quiet.String())
	}
}
