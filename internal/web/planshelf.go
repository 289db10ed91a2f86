package web

import (
	"context"
	"fmt"
	"sync"
	"time"

	"hopperful/plan"
	"hopperful/shop"
)

// Bounds of the shelf: how many plans are kept, and how long one holds. A plan
// starts "now", so it is reckoned anew when that now has passed.
const (
	mostPlans = 32
	planHolds = 2 * time.Minute
)

// planShelf reckons plans beside the pages and keeps them for a while, so that
// turning a page or asking for a chart's numbers does not reckon them again. One
// is reckoned at a time, which leaves the other core to the pages.
type planShelf struct {
	now  func() time.Time
	turn chan struct{}
	mu   sync.Mutex
	kept map[string]*planJob
	last time.Duration // how long the latest took
}

// planJob is a plan under way, or done.
type planJob struct {
	begun time.Time // by the shop's clock
	start time.Time // by the machine's, for the time it takes
	done  chan struct{}
	g     plan.Grinding
	err   error
}

func newPlanShelf(now func() time.Time) *planShelf {
	return &planShelf{now: now, turn: make(chan struct{}, 1), kept: map[string]*planJob{}}
}

// ask returns the job that reckons a plan, beginning it when there is none.
func (p *planShelf) ask(st *shop.State, req plan.Request) *planJob {
	key := fmt.Sprintf("%d|%s|%s|%s|%q|%s|%d", st.Newest().ID, req.Need.Name, req.Polymer, req.Colour, req.Lots, req.Mill, req.By.Unix())
	p.mu.Lock()
	defer p.mu.Unlock()
	if j, ok := p.kept[key]; ok && (!j.over() || p.now().Sub(j.begun) < planHolds) {
		return j
	}
	if len(p.kept) >= mostPlans {
		clear(p.kept) // jobs under way still end; whoever waits holds them
	}
	j := &planJob{begun: p.now(), start: time.Now(), done: make(chan struct{})}
	p.kept[key] = j
	go p.reckon(j, st, req)
	return j
}

func (p *planShelf) reckon(j *planJob, st *shop.State, req plan.Request) {
	defer close(j.done)
	defer func() {
		if v := recover(); v != nil {
			j.err = fmt.Errorf("the plan for %s could not be reckoned: %v", req.Need.Name, v)
		}
	}()
	p.turn <- struct{}{}
	defer func() { <-p.turn }()
	j.g, j.err = plan.Grind(st, req)
	p.mu.Lock()
	p.last = time.Since(j.start)
	p.mu.Unlock()
}

// usual is how long the latest plan took.
func (p *planShelf) usual() time.Duration {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.last
}

func (j *planJob) over() bool {
	select {
	case <-j.done:
		return true
	default:
		return false
	}
}

// within waits for the plan; false when it takes longer than that.
func (j *planJob) within(ctx context.Context, wait time.Duration) bool {
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
