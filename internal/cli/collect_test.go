package cli

import (
	"runtime"
	"runtime/metrics"
	"testing"
	"time"
)

// TestGarbageLiesWhileAServerStarts, and no longer than until the first was collected. Not parallel: it
// counts for the whole process.
func TestGarbageLiesWhileAServerStarts(t *testing.T) {
	percent := func() uint64 {
		now := []metrics.Sample{{Name: "/gc/gogc:percent"}}
		metrics.Read(now)
		return now[0].Value.Uint64()
	}
	before := percent()
	end := collectLater()
	if got := percent(); got != startCollection {
		t.Errorf("%d %% lie at first", got)
	}
	for range 100 {
		if runtime.GC(); percent() == serveCollection {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if got := percent(); got != serveCollection {
		t.Errorf("%d %% lie after the first was collected", got)
	}
	if end(); percent() != before {
		t.Errorf("%d %% lie after the end, %d before", percent(), before)
	}
}
