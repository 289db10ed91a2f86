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
// records have to be read again.
func openStore(ctx context.Context, env *Env, path string, o store.Options) (*store.Store, error) {
	told, done := readingAnew(env, path)
	o.Read = told
	s, err := store.Open(ctx, path, o)
	done()
	if err == nil {
		env.hear(s.State())
	}
	return s, err
}

// readingAnew tells how many records were read, once that takes more than a second: a terminal
// in one line that done takes away, a log once.
func readingAnew(env *Env, path string) (told func(records int), done func()) {
	start, drawn := env.Now(), false
	told = func(records int) {
		if env.Now().Sub(start) < time.Second || drawn && !env.ErrTerminal {
			return
		}
		drawn = true
		line := env.speaks().Line("cli.reading_anew", fact.Name("path", store.Shown(path)), fact.Count("n", records))
		if env.ErrTerminal {
			env.redraw(line)
		} else {
			fmt.Fprintln(env.Err, line)
		}
	}
	done = func() {
		if drawn && env.ErrTerminal {
			env.redraw("")
		}
	}
	return told, done
}
