package web

import (
	"context"
	"fmt"
	"sync"

	"hopperful/plan"
	"hopperful/shop"
)

// mostPlans is how many plans are kept ready.
const mostPlans = 32

// planShelf keeps plans that were just reckoned, so that turning a page or
// asking for a chart's numbers does not reckon them again. A plan holds for one
// state of the shop and one minute; one is reckoned at a time, which leaves the
// other core to the pages.
type planShelf struct {
	turn chan struct{}
	mu   sync.Mutex
	kept map[string]plan.Grinding
}

func newPlanShelf() *planShelf {
	return &planShelf{turn: make(chan struct{}, 1), kept: map[string]plan.Grinding{}}
}

func (p *planShelf) look(key string) (plan.Grinding, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	g, ok := p.kept[key]
	return g, ok
}

func (p *planShelf) put(key string, g plan.Grinding) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if len(p.kept) >= mostPlans {
		clear(p.kept)
	}
	p.kept[key] = g
}

// grind is plan.Grind, remembered.
func (p *planShelf) grind(ctx context.Context, st *shop.State, req plan.Request) (plan.Grinding, error) {
	key := fmt.Sprintf("%d|%s|%s|%s|%q|%s|%d|%d", st.Newest().ID, req.Need.Name, req.Polymer, req.Colour, req.Lots, req.Mill,
		req.Now.Unix(), req.By.Unix())
	if g, ok := p.look(key); ok {
		return g, nil
	}
	select {
	case p.turn <- struct{}{}:
		defer func() { <-p.turn }()
	case <-ctx.Done():
		return plan.Grinding{}, ctx.Err()
	}
	if g, ok := p.look(key); ok {
		return g, nil // reckoned while we waited
	}
	g, err := plan.Grind(st, req)
	if err == nil {
		p.put(key, g)
	}
	return g, err
}
