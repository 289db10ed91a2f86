package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/netip"
	"sync"
	"time"

	"hopperful/internal/web/door"
)

// Bounds of the reckoner: how many answers are kept, and how long one holds. A plan
// starts "now", so it is reckoned anew when that now has passed. So many may wait for
// their turn, so many of them asked from one address; and one whose asker has not
// been heard of for a while, as a page that waits asks every second, is dropped.
const (
	mostKept       = 48
	keptFor        = 2 * time.Minute
	mostQueued     = 16
	mostQueuedEach = 4
	patience       = 4 * time.Second
)

// reckoner reckons what takes long beside the pages and keeps it for a while, so
// that turning a page or asking for a chart's numbers does not reckon it again.
// One is reckoned at a time, which leaves the other core to the pages.
type reckoner struct {
	now      func() time.Time
	turn     chan struct{}
	patience time.Duration
	mu       sync.Mutex
	kept     map[string]*job
	last     map[string]time.Duration // how long the latest of each kind took
	queued   map[netip.Prefix]int     // under way or waiting, by who asked first
	inAll    int
}

// job is an answer that was asked for, is under way, or there.
type job struct {
	kind, key string
	begun     time.Time // by the shop's clock
	start     time.Time // by the machine's, for the time it takes
	done      chan struct{}
	value     any
	err       error
	reckon    func() (any, error)

	// Under the reckoner's lock.
	queued  bool      // it has a place
	waiting int       // how many wait for it now
	heard   time.Time // when somebody last did
}

// errDropped ends a job that nobody waits for.
var errDropped = errors.New("nobody waited for it")

func newReckoner(now func() time.Time) *reckoner {
	return &reckoner{now: now, turn: make(chan struct{}, 1), patience: patience, kept: map[string]*job{},
		last: map[string]time.Duration{}, queued: map[netip.Prefix]int{}}
}

// ask returns the job of that kind and key, a new one when there is none. It is
// begun when somebody waits for it. The key holds all that the answer follows from.
func (p *reckoner) ask(kind, key string, reckon func() (any, error)) *job {
	key = kind + "|" + key
	p.mu.Lock()
	defer p.mu.Unlock()
	if j, ok := p.kept[key]; ok && (!j.over() || p.now().Sub(j.begun) < keptFor) {
		return j
	}
	if len(p.kept) >= mostKept {
		p.forget()
	}
	j := &job{kind: kind, key: key, begun: p.now(), start: time.Now(), done: make(chan struct{}), reckon: reckon, heard: time.Now()}
	p.kept[key] = j
	return j
}

// forget makes room: for the job that was never begun, else the answer not asked
// for the longest. One under way stays, whoever waits for it holds it.
func (p *reckoner) forget() {
	var oldest *job
	for _, j := range p.kept {
		if j.queued && !j.over() {
			continue
		}
		if oldest == nil || !j.queued && oldest.queued || j.queued == oldest.queued && j.heard.Before(oldest.heard) {
			oldest = j
		}
	}
	if oldest != nil {
		delete(p.kept, oldest.key)
	}
}

// begin gives a job its place in the queue, if it has none; false when there is no
// place for who asks.
func (p *reckoner) begin(j *job, who netip.Prefix) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	j.heard = time.Now()
	if j.queued {
		return true
	}
	if p.inAll >= mostQueued || p.queued[who] >= mostQueuedEach {
		return false
	}
	j.queued = true
	p.inAll++
	p.queued[who]++
	go p.run(j, who)
	return true
}

func (p *reckoner) run(j *job, who netip.Prefix) {
	defer close(j.done)
	p.turn <- struct{}{}
	defer func() { <-p.turn }()
	defer p.leave(who)
	if p.dropped(j) {
		j.err = errDropped
		return
	}
	defer func() {
		if v := recover(); v != nil {
			j.err = fmt.Errorf("the %s could not be reckoned: %v", j.kind, v)
		}
	}()
	j.value, j.err = j.reckon()
	p.mu.Lock()
	p.last[j.kind] = time.Since(j.start)
	p.mu.Unlock()
}

func (p *reckoner) leave(who netip.Prefix) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.inAll--
	if p.queued[who]--; p.queued[who] <= 0 {
		delete(p.queued, who)
	}
}

// dropped forgets a job whose turn has come and that nobody waits for any more.
func (p *reckoner) dropped(j *job) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if j.waiting > 0 || time.Since(j.heard) < p.patience {
		return false
	}
	if p.kept[j.key] == j {
		delete(p.kept, j.key)
	}
	return true
}

// usual is how long the latest of a kind took.
func (p *reckoner) usual(kind string) time.Duration {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.last[kind]
}

func (j *job) over() bool {
	select {
	case <-j.done:
		return true
	default:
		return false
	}
}

// How waiting for a job ended.
type waited int

const (
	notYet  waited = iota // it takes longer than that, or the asker left
	there                 // the answer is there
	noPlace               // too much is asked for at once
)

// within begins a job when it has to be, and waits for the answer that long.
func (p *reckoner) within(r *http.Request, ending <-chan struct{}, j *job, wait time.Duration) waited {
	if j.over() {
		return there
	}
	if !p.begin(j, door.AddressOf(r)) {
		return noPlace
	}
	p.count(j, 1)
	defer p.count(j, -1)
	t := time.NewTimer(wait)
	defer t.Stop()
	select {
	case <-j.done:
		if errors.Is(j.err, errDropped) { // it was given up just before: the next asking begins anew
			return notYet
		}
		return there
	case <-t.C:
	case <-r.Context().Done():
	case <-ending:
	}
	return notYet
}

func (p *reckoner) count(j *job, n int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	j.waiting += n
	j.heard = time.Now()
}
