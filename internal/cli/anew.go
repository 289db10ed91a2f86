package cli

// A long shop is read anew after an upgrade, which takes minutes; whoever waits is told.

import (
	"context"
	"fmt"
	"time"

	"hopperful/fact"
	"hopperful/internal/store"
)

// openStore opens a shop, and tells on standard error how far it is when all of its
// records have to be read again: a terminal in one line that goes away, a log once.
func openStore(ctx context.Context, env *Env, path string, o store.Options) (*store.Store, error) {
	start, drawn := env.Now(), time.Time{}
	o.Read = func(records int) {
		now := env.Now()
		line := env.speaks().Line("cli.reading_anew", fact.Name("path", store.Shown(path)), fact.Count("n", records))
		switch {
		case now.Sub(start) < time.Second:
		case !env.ErrTerminal && drawn.IsZero():
			fmt.Fprintln(env.Err, line)
			drawn = now
		case env.ErrTerminal:
			fmt.Fprintf(env.Err, "\r%s\033[K", line)
			drawn = now
		}
	}
	s, err := store.Open(ctx, path, o)
	if env.ErrTerminal && !drawn.IsZero() {
		fmt.Fprint(env.Err, "\r\033[K")
	}
	return s, err
}
