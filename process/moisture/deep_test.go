package moisture

import (
	"strings"
	"testing"
)

// The refusal speaks in hours and millimetres.
func TestTooDeepSpeaksInHours(t *testing.T) {
	t.Parallel()
	got := (&TooDeepError{Depth: 0.06, Deepest: 0.02, Bed: 7200, Grain: 3600}).Error()
	for _, want := range []string{"60 mm", "2.0 h", "1.0 h", "20 mm or less"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
}
