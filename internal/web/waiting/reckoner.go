package waiting

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
	MostKept       = 48
	keptFor        = 2 * time.Minute
	MostQueued     = 16
	MostQueuedEach = 4
	patience       = 4 * time.Second
)

// Reckoner reckons what takes long beside the pages and keeps it for a while, so
// that turning a page or asking for a chart's numbers does not reckon it again.
// One is reckoned at a time, which leaves the other core to the pages.
type Reckoner struct {
	now      func() time.Time
	Turn     chan struct{}
	Patience time.Duration
	Mu       sync.Mutex
	Kept     map[string]*Job
	last     map[string]time.Duration // how long the latest of each kind took
	queued   map[netip.Prefix]int     // under way or waiting, by who asked first
	InAll    int
}

// Job is an answer that was asked for, is under way, or there.
type Job struct {
	Kind, key string
	begun     time.Time // by the shop's clock
	Start     time.Time // by the machine's, for the time it takes
	done      chan struct{}
	Value     any
	Err       error
	reckon    func() (any, error)

	// Under the reckoner's lock.
	queued  bool      // it has a place
	Waiting int       // how many wait for it now
	heard   time.Time // when somebody last did
}

// errDropped ends a job that nobody waits for.
var errDropped = errors.New("nobody waited for it")

// NewReckoner has nothing under way yet; now is the shop's clock.
func NewReckoner(now func() time.Time) *Reckoner {
	return &Reckoner{now: now, Turn: make(chan struct{}, 1), Patience: patience, Kept: map[string]*Job{},
		last: map[string]time.Duration{}, queued: map[netip.Prefix]int{}}
}

// Ask returns the job of that kind and key, a new one when there is none. It is
// begun when somebody waits for it. The key holds all that the answer follows from.
func (p *Reckoner) Ask(kind, key string, reckon func() (any, error)) *Job {
	key = kind + "|" + key
	p.Mu.Lock()
	defer p.Mu.Unlock()
	if j, ok := p.Kept[key]; ok && (!j.over() || p.now().Sub(j.begun) < keptFor) {
		return j
	}
	if len(p.Kept) >= MostKept {
		p.forget()
	}
	j := &Job{Kind: kind, key: key, begun: p.now(), Start: time.Now(), done: make(chan struct{}), reckon: reckon, heard: time.Now()}
	p.Kept[key] = j
	return j
}

// forget makes room: for the job that was never begun, else the answer not asked
// for the longest. One under way stays, whoever waits for it holds it.
func (p *Reckoner) forget() {
	var oldest *Job
	for _, j := range p.Kept {
		if j.queued && !j.over() {
			continue
		}
		if oldest == nil || !j.queued && oldest.queued || j.queued == oldest.queued && j.heard.Before(oldest.heard) {
			oldest = j
		}
	}
	if oldest != nil {
		delete(p.Kept, oldest.key)
	}
}

// begin gives a job its place in the queue, if it has none; false when there is no
// place for who asks.
func (p *Reckoner) begin(j *Job, who netip.Prefix) bool {
	p.Mu.Lock()
	defer p.Mu.Unlock()
	j.heard = time.Now()
	if j.queued {
		return true
	}
	if p.InAll >= MostQueued || p.queued[who] >= MostQueuedEach {
		return false
	}
	j.queued = true
	p.InAll++
	p.queued[who]++
	go p.run(j, who)
	return true
}

func (p *Reckoner) run(j *Job, who netip.Prefix) {
	defer close(j.done)
	p.Turn <- struct{}{}
	defer func() { <-p.Turn }()
	defer p.leave(who)
	if p.dropped(j) {
		j.Err = errDropped
		return
	}
	defer func() {
		if v := recover(); v != nil {
			j.Err = fmt.Errorf("the %s could not be reckoned: %v", j.Kind, v)
		}
	}()
	j.Value, j.Err = j.reckon()
	p.Mu.Lock()
	p.last[j.Kind] = time.Since(j.Start)
	p.Mu.Unlock()
}

func (p *Reckoner) leave(who netip.Prefix) {
	p.Mu.Lock()
	defer p.Mu.Unlock()
	p.InAll--
	if p.queued[who]--; p.queued[who] <= 0 {
		delete(p.queued, who)
	}
}

// dropped forgets a job whose turn has come and that nobody waits for any more.
func (p *Reckoner) dropped(j *Job) bool {
	p.Mu.Lock()
	defer p.Mu.Unlock()
	if j.Waiting > 0 || time.Since(j.heard) < p.Patience {
		return false
	}
	if p.Kept[j.key] == j {
		delete(p.Kept, j.key)
	}
	return true
}

// Usual is how long the latest of a kind took.
func (p *Reckoner) Usual(kind string) time.Duration {
	p.Mu.Lock()
	defer p.Mu.Unlock()
	return p.last[kind]
}

func (j *Job) over() bool {
	select {
	case <-j.done:
		return true
	default:
		return false
	}
}

// How waiting for a job ended.
type Waited int

const (
	notYet  Waited = iota // it takes longer than that, or the asker left
	There                 // the answer is there
	NoPlace               // too much is asked for at once
)

// Within begins a job when it has to be, and waits for the answer that long.
func (p *Reckoner) Within(r *http.Request, ending <-chan struct{}, j *Job, wait time.Duration) Waited {
	if j.over() {
		return There
	}
	if !p.begin(j, door.AddressOf(r)) {
		return NoPlace
	}
	p.count(j, 1)
	defer p.count(j, -1)
	t := time.NewTimer(wait)
	defer t.Stop()
	select {
	case <-j.done:
		if errors.Is(j.Err, errDropped) { // it was given up just before: the next asking begins anew
			return notYet
		}
		return There
	case <-t.C:
	case <-r.Context().Done():
	case <-ending:
	}
	return notYet
}

func (p *Reckoner) count(j *Job, n int) {
	p.Mu.Lock()
	defer p.Mu.Unlock()
	j.Waiting += n
	j.heard = time.Now()
}
