package door

import (
	"fmt"
	"net/http"
	"testing"
	"time"
)

// However many addresses guess, only so many are remembered.
func TestFewAddressesAreRemembered(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
	k := NewKnocking(func() time.Time { return now })
	for i := range 2 * mostKnown {
		k.Note(AddressOf(&http.Request{RemoteAddr: fmt.Sprintf("10.%d.%d.1:1", i/256, i%256)}))
	}
	if n := len(k.wrong); n > mostKnown {
		t.Errorf("%d addresses are remembered", n)
	}
}
