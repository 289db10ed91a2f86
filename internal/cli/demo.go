package cli

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/demo"
	"hopperful/internal/say"
	"hopperful/internal/store"
	"hopperful/plan"
	"hopperful/plan/consumption"
	"hopperful/shop"
)

// demoSeed fixes the scatter of the invented records, so that everybody's demo
// is the same on the same day.
const demoSeed = 1

func demoCommand(env *Env) *cobra.Command {
	var p pages
	var noServe bool
	c := &cobra.Command{
		Use:     "demo",
		Example: `  hopperful demo --shop my-demo.hopperful --no-serve`,
		Args:    takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) (err error) {
			passphrase, err := p.passphrase(c, env)
			if err != nil {
				return err
			}
			path, err := c.Flags().GetString("shop")
			if err != nil {
				return err
			}
			if path == "" {
				folder, err := os.MkdirTemp("", "hopperful-demo-*")
				if err != nil {
					return err
				}
				defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
				path = filepath.Join(folder, "demo.hopperful")
			}
			s, err := makeDemo(c.Context(), env, path)
			if err != nil {
				return err
			}
			defer func() { err = errors.Join(err, s.Close()) }()
			if err := showDemo(c, env, s, noServe); err != nil || noServe {
				return err
			}
			return p.serve(c, env, s, passphrase)
		},
	}
	p.flags(c)
	c.Flags().String("shop", "", "")
	c.Flags().BoolVar(&noServe, "no-serve", false, "")
	return c
}

// makeDemo writes the invented shop and, beside it, the files to print. The shop
// gets its name when it is whole, so that one cut short leaves none.
func makeDemo(ctx context.Context, env *Env, path string) (*store.Store, error) {
	s, err := store.CreateWith(ctx, path, store.Options{}, func(s *store.Store) error {
		return fillDemo(ctx, env, s, folderOf(path))
	})
	var taken *demo.TakenError
	if errors.As(err, &taken) {
		err = &failure{what: fact.Say("cli.taken", fact.Name("path", taken.Path)), err: err, advice: fact.Say("cli.do_demo_elsewhere")}
	}
	return s, err
}

// fillDemo writes the records of the invented shop and the files to print.
func fillDemo(ctx context.Context, env *Env, s *store.Store, folder string) error {
	now := env.Now()
	records, err := demo.Records(now, rand.New(rand.NewPCG(demoSeed, demoSeed)))
	if err != nil {
		return err
	}
	if err := demo.WriteFiles(folder); err != nil {
		return err
	}
	if _, err := s.Append(ctx, now, records...); err != nil {
		return err
	}
	for _, f := range demo.Files() {
		if err := saveDemoNeed(ctx, env, s, folder, f); err != nil {
			return err
		}
	}
	_, err = s.Append(ctx, env.Now(), shop.Record{Body: &shop.NeedSet{Need: demo.Wanted()}})
	return err
}

// saveDemoNeed reads one of the files and keeps what it eats.
func saveDemoNeed(ctx context.Context, env *Env, s *store.Store, folder string, f demo.File) error {
	name := filepath.Join(folder, f.Name)
	facts, err := os.Stat(name)
	if err != nil {
		return err
	}
	found, err := readFile(ctx, env, name, facts, consumption.Reading{Wall: f.Wall, Infill: f.Infill})
	if err != nil {
		return err
	}
	need := found.Need
	need.Name, need.Polymer, need.Colour = f.Need, f.Polymer, f.Colour
	_, err = s.Append(ctx, env.Now(), shop.Record{Body: &shop.NeedSet{Need: need}})
	return err
}

// demoJSON is what demo --json prints.
type demoJSON struct {
	Shop    string       `json:"shop"`
	Records int          `json:"records"`
	Files   []string     `json:"files"`
	Plan    say.Document `json:"plan"`
}

// showDemo prints what was made and one plan. With --json and pages to come,
// the one object is the pages' address, so nothing is printed here.
func showDemo(c *cobra.Command, env *Env, s *store.Store, alone bool) error {
	if asJSON(c) && !alone {
		return nil
	}
	state := s.State()
	first := demo.Files()[0]
	need, ok := state.Need(first.Need)
	if !ok {
		return fmt.Errorf("the demo shop lacks its need %q", first.Need)
	}
	g, err := plan.Grind(state, plan.Request{Need: need, Now: env.Now()})
	if err != nil {
		return err
	}
	folder := folderOf(s.Path())
	if asJSON(c) {
		out := demoJSON{Shop: s.Path(), Records: state.History.Len(), Plan: speaks(env, state).Document(g.Document())}
		for _, f := range demo.Files() {
			out.Files = append(out.Files, filepath.Join(folder, f.Name))
		}
		return writeJSON(env, out)
	}
	plain(env.Out, "%s", env.speaks().Line("cli.demo_shop", fact.Name("name", state.Shop.Name)))
	plain(env.Out, "%s", env.speaks().Line("cli.demo_written", fact.Name("path", s.Path()), fact.Count("records", state.History.Len()), fact.Count("lots", len(state.Stock(""))), fact.Count("mills", len(state.ActiveMills()))))
	plain(env.Out, "%s", env.speaks().Line("cli.demo_prints", fact.Name("folder", folder)))
	t := newGrid(env, "cell.file", "cell.need", "cell.of")
	for _, f := range demo.Files() {
		t.row(f.Name, f.Need, material(env.speaks(), f.Polymer, f.Colour))
	}
	t.print()
	heading(env, "hopperful plan %q", first.Need)
	p := speaks(env, state)
	printShort(env, p, p.Document(g.Document()))
	learned, err := plan.Learn(state, g.Mill)
	if err != nil {
		return err
	}
	heading(env, "%s", env.speaks().Line("cli.plan_learned_from"))
	plain(env.Out, "  %s\n", p.Say(learned.Head()))
	return nil
}
