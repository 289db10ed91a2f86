package door

import (
	"net/netip"
	"sync"
)

// mostUploads is how many files may be on their way at once in all.
const mostUploads = 8

// Uploads keeps account of who is sending a file: one at a time from an address,
// so that no caller fills the disk or keeps both cores reading.
type Uploads struct {
	mu  sync.Mutex
	who map[netip.Prefix]bool
}

// Enter takes a place for a file; false when there is none for this address.
func (u *Uploads) Enter(who netip.Prefix) bool {
	u.mu.Lock()
	defer u.mu.Unlock()
	if u.who[who] || len(u.who) >= mostUploads {
		return false
	}
	if u.who == nil {
		u.who = map[netip.Prefix]bool{}
	}
	u.who[who] = true
	return true
}

// Leave says that a file is read.
func (u *Uploads) Leave(who netip.Prefix) {
	u.mu.Lock()
	defer u.mu.Unlock()
	delete(u.who, who)
}
