package cli

import (
	"context"
	"io"
	"math"
	"sync"
	"time"

	"fmt"
	"hopperful/fact"
	"hopperful/quantity"
)

// progress draws on a terminal's standard error how far a file has been read,
// once that takes more than a second. Readers may run in several goroutines.
// Reading ends when the context does, so that a long read can be stopped.
type progress struct {
	ctx   context.Context // of the one command this belongs to
	file  io.ReaderAt
	env   *Env
	name  string
	total int64 // bytes
	start time.Time

	mu    sync.Mutex
	drawn time.Time // last time a line was drawn, zero for never
}

// watch wraps a file of total bytes.
func watch(ctx context.Context, env *Env, file io.ReaderAt, name string, total int64) *progress {
	return &progress{ctx: ctx, file: file, env: env, name: name, total: total, start: env.Now()}
}

// ReadAt passes the bytes on and now and then redraws the line.
func (p *progress) ReadAt(b []byte, off int64) (int, error) {
	if err := p.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := p.file.ReadAt(b, off)
	if p.env.ErrTerminal {
		p.draw(off + int64(n))
	}
	return n, err
}

func (p *progress) draw(at int64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.env.Now()
	if now.Sub(p.start) < time.Second || now.Sub(p.drawn) < 200*time.Millisecond {
		return
	}
	p.drawn = now
	p.env.redraw(p.line(at, now))
}

// redraw puts a line in place of the last on a terminal's standard error; "" takes it away.
func (env *Env) redraw(line string) { fmt.Fprintf(env.Err, "\r%s\033[K", line) }

// line says how far it is and how long it will still take.
func (p *progress) line(at int64, now time.Time) string {
	share := float64(at) / float64(max(p.total, 1))
	left := time.Duration(float64(now.Sub(p.start)) * (1 - share) / max(share, 1e-3)).Round(time.Second)
	return p.env.speaks().Line("cli.reading", fact.Name("name", p.name), fact.Set("share", quantity.Share, math.Round(100*share)/100), fact.Name("left", left.String()))
}

// done takes the line away.
func (p *progress) done() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.drawn.IsZero() {
		p.env.redraw("")
	}
}
