package web

import (
	"context"
	"fmt"
	"sync"
	"time"
)

// Bounds of the reckoner: how many answers are kept, and how long one holds. A plan
// starts "now", so it is reckoned anew when that now has passed.
const (
	mostKept = 48
	keptFor  = 2 * time.Minute
)

// reckoner reckons what takes long beside the pages and keeps it for a while, so
// that turning a page or asking for a chart's numbers does not reckon it again.
// One is reckoned at a time, which leaves the other core to the pages.
type reckoner struct {
	now  func() time.Time
	turn chan struct{}
	mu   sync.Mutex
	kept map[string]*job
	last map[string]time.Duration // how long the latest of each kind took
}

// job is an answer under way, or there.
type job struct {
	kind  string
	begun time.Time // by the shop's clock
	start time.Time // by the machine's, for the time it takes
	done  chan struct{}
	value any
	err   error
}

func newReckoner(now func() time.Time) *reckoner {
	return &reckoner{now: now, turn: make(chan struct{}, 1), kept: map[string]*job{}, last: map[string]time.Duration{}}
}

// ask returns the job of that kind and key, beginning it when there is none. The
// key holds all that the answer follows from.
func (p *reckoner) ask(kind, key string, reckon func() (any, error)) *job {
	key = kind + "|" + key
	p.mu.Lock()
	defer p.mu.Unlock()
	if j, ok := p.kept[key]; ok && (!j.over() || p.now().Sub(j.begun) < keptFor) {
		return j
	}
	if len(p.kept) >= mostKept {
		clear(p.kept) // jobs under way still end; whoever waits holds them
	}
	j := &job{kind: kind, begun: p.now(), start: time.Now(), done: make(chan struct{})}
	p.kept[key] = j
	go p.reckon(j, reckon)
	return j
}

func (p *reckoner) reckon(j *job, reckon func() (any, error)) {
	defer close(j.done)
	defer func() {
		if v := recover(); v != nil {
			j.err = fmt.Errorf("the %s could not be reckoned: %v", j.kind, v)
		}
	}()
	p.turn <- struct{}{}
	defer func() { <-p.turn }()
	j.value, j.err = reckon()
	p.mu.Lock()
	p.last[j.kind] = time.Since(j.start)
	p.mu.Unlock()
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

// within waits for the answer; false when it takes longer than that.
func (j *job) within(ctx context.Context, wait time.Duration) bool {
	t := time.NewTimer(wait)
	defer t.Stop()
	select {
	case <-j.done:
		return true
	case <-t.C:
		return false
	case <-ctx.Done():
		return false
	}
}
