package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"hopperful/internal/store"
	"hopperful/internal/web"
)

// What the doctor holds against.
const (
	leastFree = 100 << 20        // bytes; a shop of years takes a few of these, a backup as much again
	offClock  = 10 * time.Minute // how far a record may lie ahead of the clock
)

// examined is one thing that was looked at.
type examined struct {
	What string `json:"what"`
	OK   bool   `json:"ok"`
	Say  string `json:"say"`
	Hint string `json:"hint,omitempty"`
}

func doctorCommand(env *Env) *cobra.Command {
	var running bool
	c := &cobra.Command{
		Use:     "doctor",
		Example: `  hopperful doctor`,
		Args:    takes(0, 0, "flags only"),
		RunE: func(c *cobra.Command, _ []string) error {
			path, err := shopPath(c, env)
			if err != nil {
				return err
			}
			if running {
				return answering(c.Context(), env, path)
			}
			all := examine(c.Context(), env, path)
			wrong := 0
			for _, e := range all {
				if !e.OK {
					wrong++
				}
			}
			if asJSON(c) {
				err = writeJSON(env, struct {
					Looked []examined `json:"looked"`
					Wrong  int        `json:"wrong"`
				}{all, wrong})
			} else {
				showExamined(env, all)
			}
			if err == nil && wrong > 0 {
				err = &partly{} // what is wrong is told already
			}
			return err
		},
	}
	c.Flags().BoolVar(&running, "running", false, "")
	shopFlag(c)
	return c
}

// answering asks the server of the shop at path for a sign of life.
func answering(ctx context.Context, env *Env, path string) error {
	var refused *web.Refused // it asks for a token, so it answers
	if _, err := reach(ctx, env, path); err != nil && !errors.As(err, &refused) {
		return &failure{say: fmt.Sprintf("The pages of %s are not served.", store.Shown(path)), err: err, hint: "Start them with hopperful serve."}
	}
	plain(env.Out, "The pages of %s are served and answer.", store.Shown(path))
	return nil
}

func showExamined(env *Env, all []examined) {
	for _, e := range all {
		mark := "in order"
		if !e.OK {
			mark = "WRONG"
		}
		plain(env.Out, "%-8s  %s: %s", mark, e.What, e.Say)
		if e.Hint != "" {
			plain(env.Out, "          %s", e.Hint)
		}
	}
}

// examine looks at everything there is.
func examine(ctx context.Context, env *Env, path string) []examined {
	all := []examined{{"program", true, "hopperful " + env.Build, ""}}
	v, err := store.Verify(ctx, path)
	switch {
	case store.Is(err, store.Missing):
		all = append(all, examined{"shop", true, "There is none at " + store.Shown(path) + " yet.", "It is made with the first record."})
	case err != nil:
		a, _ := explain(env, err)
		all = append(all, examined{"shop", false, a.Say, a.Hint})
	default:
		all = append(all, examined{"shop", true, fmt.Sprintf("%s has %s, each as it was written.", store.Shown(path), countedRecords(v.Records)), ""})
		all = append(all, examineKept(ctx, path)...)
	}
	if store.OnServer(path) {
		return append(append(all, examineServer(ctx, env, path)...), examineClock(env, v), examineSensors(ctx, env, path))
	}
	return append(all, examineLock(env, path), examineDisk(filepath.Dir(path)), examineClock(env, v), examineSensors(ctx, env, path))
}

// examineKept tells what is kept beside a long shop. That it does not count is in order:
// the next program that opens the shop for writing makes it anew.
func examineKept(ctx context.Context, path string) []examined {
	n, why := store.Kept(ctx, path)
	switch {
	case why != nil:
		return []examined{{"kept state", true, fmt.Sprintf("What is kept beside the shop does not count: %v.", why), "Nothing is lost by it. It is made anew when the shop is next opened for writing."}}
	case n > 0:
		return []examined{{"kept state", true, fmt.Sprintf("The first %s need not be read to open the shop.", countedRecords(n)), ""}}
	}
	return nil
}

// examineServer looks at the server of a shop, the way to it and its clock.
func examineServer(ctx context.Context, env *Env, path string) []examined {
	began := env.Now()
	f, err := store.LookAtServer(ctx, path)
	if err != nil {
		a, _ := explain(env, err)
		return []examined{{"server", false, a.Say, a.Hint}}
	}
	all := []examined{{"server", true, fmt.Sprintf("PostgreSQL %s answers; %d connections of hopperful are open there, and it holds %d shops.", f.Version, f.Connections, f.Shops), ""}}
	way := examined{"way", true, "The way to the server is encrypted (" + f.Encryption + ").", ""}
	switch {
	case f.Encryption == "" && f.Local:
		way.Say = "The server is on this computer; nothing is on a wire."
	case f.Encryption == "":
		way = examined{"way", false, "The way to the server is not encrypted: who is in between can read all of it.", "Add ?sslmode=verify-full to the address, and have the server speak TLS."}
	case !f.Checked:
		way.Say += " Whether it is the right server is not checked."
		way.Hint = "With ?sslmode=verify-full in the address it is."
	}
	all = append(all, way)
	off := f.Clock.Sub(began)
	clocks := examined{"clocks", off.Abs() <= offClock, fmt.Sprintf("The server's clock is within %s of this computer's.", offClock), ""}
	if !clocks.OK {
		clocks = examined{"clocks", false, fmt.Sprintf("The server's clock is %s off this computer's.", off.Round(time.Second)), "Set both; programs that share a shop should know the same time."}
	}
	return append(all, clocks)
}

// examineLock tells who has the shop open; that somebody has is in order.
func examineLock(env *Env, path string) examined {
	holder, err := store.Holder(path)
	switch {
	case err != nil:
		a, _ := explain(env, err)
		return examined{"lock", false, a.Say, a.Hint}
	case holder != "":
		return examined{"lock", true, "The shop is open for writing in another hopperful (" + holder + ").", "Record on its pages, or stop it first."}
	}
	return examined{"lock", true, "Nobody has the shop open for writing.", ""}
}

func examineDisk(folder string) examined {
	free, err := freeOn(folder)
	if err != nil {
		return examined{"disk", os.IsNotExist(err), fmt.Sprintf("The folder %s cannot be looked at: %v.", folder, err), "It is made with the shop when it is your data folder."}
	}
	e := examined{"disk", free >= leastFree, fmt.Sprintf("%d MB are free in %s.", free>>20, folder), ""}
	if !e.OK {
		e.Hint = fmt.Sprintf("Free some: at least %d MB, so that records and a backup fit.", leastFree>>20)
		return e
	}
	f, err := os.CreateTemp(folder, ".hopperful-doctor-*")
	if err != nil {
		return examined{"disk", false, fmt.Sprintf("Nothing can be written in %s: %v.", folder, err), "Check the permissions of the folder; until then the shop can only be looked at."}
	}
	f.Close()
	if err := os.Remove(f.Name()); err != nil {
		return examined{"disk", false, fmt.Sprintf("%s could be written and not removed: %v.", f.Name(), err), "Remove it by hand, and check the disk."}
	}
	return e
}

// examineClock holds the clock against the newest record.
func examineClock(env *Env, v store.Verified) examined {
	now := env.Now()
	say := "It is " + now.Format("2006-01-02 15:04 MST") + " by this computer."
	if ahead := v.Newest.Sub(now); ahead > offClock {
		return examined{"clock", false, say + " The newest record was written on " + v.Newest.In(now.Location()).Format("2006-01-02 15:04") + ", which is later.",
			"Set the clock; a board without a battery takes it from the network when it is there."}
	}
	return examined{"clock", true, say, ""}
}
