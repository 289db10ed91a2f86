package web

import (
	"net/http"
	"net/netip"
	"strconv"
	"strings"
	"sync"
)

// mostUploads is how many files may be on their way at once in all.
const mostUploads = 8

// uploads keeps account of who is sending a file: one at a time from an address,
// so that no caller fills the disk or keeps both cores reading.
type uploads struct {
	mu  sync.Mutex
	who map[netip.Prefix]bool
}

func (u *uploads) enter(who netip.Prefix) bool {
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

func (u *uploads) leave(who netip.Prefix) {
	u.mu.Lock()
	defer u.mu.Unlock()
	delete(u.who, who)
}

// oneUpload lets a form with files in when its sender has no other under way.
func (s *server) oneUpload(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !strings.HasPrefix(strings.ToLower(r.Header.Get("Content-Type")), "multipart/") {
			next.ServeHTTP(w, r)
			return
		}
		who := addressOf(r)
		if !s.uploads.enter(who) {
			w.Header().Set("Retry-After", strconv.Itoa(comeBack))
			s.fail(w, r, fault{http.StatusTooManyRequests, "form.another_file_is_still_being", "form.wait_until_it_is_read"})
			return
		}
		defer s.uploads.leave(who)
		next.ServeHTTP(w, r)
	})
}
