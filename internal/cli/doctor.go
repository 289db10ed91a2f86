package cli

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"time"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/internal/store"
	"hopperful/internal/web"
	"hopperful/quantity"
)

// What the doctor holds against.
const (
	leastFree = 100 << 20        // bytes; a shop of years takes a few of these, a backup as much again
	offClock  = 10 * time.Minute // how far a record may lie ahead of the clock
)

// examined is one thing that was looked at.
type examined struct {
	What   fact.Saying
	OK     bool
	Say    fact.Saying
	Advice fact.Saying
}

// examinedJSON is the same as scripts and people read it.
type examinedJSON struct {
	What string `json:"what"`
	OK   bool   `json:"ok"`
	Say  string `json:"say"`
	Hint string `json:"hint,omitempty"`
}

// worded puts what was looked at into words.
func (e examined) worded(p *say.Printer) examinedJSON {
	return examinedJSON{p.Say(e.What), e.OK, p.Say(e.Say), p.Say(e.Advice)}
}

// refusedAs is what could not be looked at, and why.
func refusedAs(env *Env, what fact.Saying, err error) examined {
	a, _ := explain(env, err)
	return examined{what, false, fact.Verbatim(a.Say), fact.Verbatim(a.Hint)}
}

func doctorCommand(env *Env) *cobra.Command {
	var running bool
	c := &cobra.Command{
		Use:     "doctor",
		Example: `  hopperful doctor`,
		Args:    takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			path, err := shopPath(c, env)
			if err != nil {
				return err
			}
			if running {
				return answering(c.Context(), env, path)
			}
			all := examine(c.Context(), env, path)
			wrong, told := 0, []examinedJSON{}
			for _, e := range all {
				if !e.OK {
					wrong++
				}
				told = append(told, e.worded(env.speaks()))
			}
			if asJSON(c) {
				err = writeJSON(env, struct {
					Looked []examinedJSON `json:"looked"`
					Wrong  int            `json:"wrong"`
				}{told, wrong})
			} else {
				showExamined(env, told)
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
		return &failure{what: fact.Say("cli.pages_not_served", fact.Name("path", store.Shown(path))), err: err, advice: fact.Say("cli.do_start_serve")}
	}
	plain(env.Out, "%s", env.speaks().Line("cli.pages_served", fact.Name("path", store.Shown(path))))
	return nil
}

func showExamined(env *Env, all []examinedJSON) {
	right, wrong := env.speaks().Line("cli.in_order"), env.speaks().Line("cli.wrong")
	width := max(utf8.RuneCountInString(right), utf8.RuneCountInString(wrong))
	for _, e := range all {
		mark := right
		if !e.OK {
			mark = wrong
		}
		plain(env.Out, "%-*s  %s: %s", width, mark, e.What, e.Say)
		if e.Hint != "" {
			plain(env.Out, "%*s  %s", width, "", e.Hint)
		}
	}
}

// examine looks at everything there is.
func examine(ctx context.Context, env *Env, path string) []examined {
	env.hearShop(ctx, path)
	all := []examined{{fact.Say("cli.program"), true, fact.Verbatim("hopperful " + env.Build), fact.Saying{}}}
	v, err := store.Verify(ctx, path)
	switch {
	case store.Is(err, store.Missing):
		all = append(all, examined{fact.Say("cli.shop"), true, fact.Say("cli.no_shop_yet", fact.Name("path", store.Shown(path))), fact.Say("cli.made_with_record")})
	case err != nil:
		all = append(all, refusedAs(env, fact.Say("cli.shop"), err))
	default:
		all = append(all, examined{fact.Say("cli.shop"), true, fact.Say("cli.records_as_written", fact.Name("path", store.Shown(path)), fact.Count("n", v.Records)), fact.Saying{}})
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
		return []examined{{fact.Say("cli.kept_state"), true, fact.Say("cli.kept_does_not_count", fact.Name("why", why.Error())), fact.Say("cli.kept_is_made_anew")}}
	case n > 0:
		return []examined{{fact.Say("cli.kept_state"), true, fact.Say("cli.kept_need_not_be_read", fact.Count("n", n)), fact.Saying{}}}
	}
	return nil
}

// examineServer looks at the server of a shop, the way to it and its clock.
func examineServer(ctx context.Context, env *Env, path string) []examined {
	began := env.Now()
	f, err := store.LookAtServer(ctx, path)
	if err != nil {
		return []examined{refusedAs(env, fact.Say("cli.server"), err)}
	}
	all := []examined{{fact.Say("cli.server"), true, fact.Say("cli.server_answers", fact.Name("version", f.Version), fact.Count("connections", f.Connections), fact.Count("shops", f.Shops)), fact.Saying{}}}
	way := examined{fact.Say("cli.way"), true, fact.Say("cli.way_encrypted", fact.Name("encryption", f.Encryption)), fact.Saying{}}
	switch {
	case f.Encryption == "" && f.Local:
		way.Say = fact.Say("cli.server_is_here")
	case f.Encryption == "":
		way = examined{fact.Say("cli.way"), false, fact.Say("cli.way_unencrypted"), fact.Say("cli.do_sslmode")}
	case !f.Checked:
		way.Say, way.Advice = fact.Say("cli.way_not_checked", fact.Name("encryption", f.Encryption)), fact.Say("cli.way_checked_with")
	}
	all = append(all, way)
	off := f.Clock.Sub(began)
	clocks := examined{fact.Say("cli.clocks"), off.Abs() <= offClock, fact.Say("cli.clock_close", fact.Set("most", quantity.Duration, offClock.Seconds())), fact.Saying{}}
	if !clocks.OK {
		clocks = examined{fact.Say("cli.clocks"), false, fact.Say("cli.clock_off", fact.Set("off", quantity.Duration, off.Round(time.Second).Seconds())), fact.Say("cli.do_set_both_clocks")}
	}
	return append(all, clocks)
}

// examineLock tells who has the shop open; that somebody has is in order.
func examineLock(env *Env, path string) examined {
	holder, err := store.Holder(path)
	switch {
	case err != nil:
		return refusedAs(env, fact.Say("cli.lock"), err)
	case holder != "":
		return examined{fact.Say("cli.lock"), true, fact.Say("cli.shop_open_elsewhere", fact.Name("holder", holder)), fact.Say("cli.do_record_on_pages")}
	}
	return examined{fact.Say("cli.lock"), true, fact.Say("cli.shop_not_open"), fact.Saying{}}
}

func examineDisk(folder string) examined {
	free, err := freeOn(folder)
	if err != nil {
		return examined{fact.Say("cli.disk"), os.IsNotExist(err), fact.Say("cli.folder_unread", fact.Name("folder", folder), fact.Name("why", err.Error())), fact.Say("cli.made_with_shop")}
	}
	e := examined{fact.Say("cli.disk"), free >= leastFree, fact.Say("cli.disk_free", fact.Count("free", int(free>>20)), fact.Name("folder", folder)), fact.Saying{}}
	if !e.OK {
		e.Advice = fact.Say("cli.free_some", fact.Count("n", leastFree>>20))
		return e
	}
	f, err := os.CreateTemp(folder, ".hopperful-doctor-*")
	if err != nil {
		return examined{fact.Say("cli.disk"), false, fact.Say("cli.folder_not_writable", fact.Name("folder", folder), fact.Name("why", err.Error())), fact.Say("cli.do_folder_permissions")}
	}
	f.Close()
	if err := os.Remove(f.Name()); err != nil {
		return examined{fact.Say("cli.disk"), false, fact.Say("cli.written_not_removed", fact.Name("name", f.Name()), fact.Name("why", err.Error())), fact.Say("cli.do_remove_by_hand")}
	}
	return e
}

// examineClock holds the clock against the newest record.
func examineClock(env *Env, v store.Verified) examined {
	now := env.Now()
	it := fact.Name("now", now.Format("2006-01-02 15:04 MST"))
	if ahead := v.Newest.Sub(now); ahead > offClock {
		return examined{fact.Say("cli.clock"), false, fact.Say("cli.clock_behind", it, fact.Name("newest", v.Newest.In(now.Location()).Format("2006-01-02 15:04"))),
			fact.Say("cli.do_set_clock")}
	}
	return examined{fact.Say("cli.clock"), true, fact.Say("cli.it_is_now", it), fact.Saying{}}
}
