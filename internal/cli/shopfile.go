package cli

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/store"
	"hopperful/internal/web"
	"hopperful/shop"
)

// shopVariable names the environment variable that says where the shop is.
const shopVariable = "HOPPERFUL_SHOP"

// shopFlag adds the flag for the shop's file.
func shopFlag(c *cobra.Command) {
	c.Flags().String("shop", "", "")
}

// shopPath is where the shop is: the flag, else the environment, else the
// user's data folder.
func shopPath(c *cobra.Command, env *Env) (string, error) {
	if path, err := c.Flags().GetString("shop"); err == nil && path != "" {
		return path, nil
	}
	if path := env.Getenv(shopVariable); path != "" {
		return path, nil
	}
	return store.DefaultPath(env.Getenv)
}

// shopOf is the same for words that were not parsed; "" where there can be none.
func (env *Env) shopOf(args []string) string {
	path := cmp.Or(typedFlag(args, "--shop"), env.Getenv(shopVariable))
	if path == "" {
		path, _ = store.DefaultPath(env.Getenv) // without a home there is no shop
	}
	return path
}

// folderOf is where files that belong to a shop are put: beside its file; here for
// one on a server.
func folderOf(path string) string {
	if store.OnServer(path) {
		return "."
	}
	return filepath.Dir(path)
}

// readShop returns the shop as it is. It works while another program has the
// shop open.
func readShop(c *cobra.Command, env *Env) (*shop.State, error) {
	path, err := shopPath(c, env)
	if err != nil {
		return nil, err
	}
	return stateAt(c.Context(), env, path)
}

func stateAt(ctx context.Context, env *Env, path string) (*shop.State, error) {
	s, err := openToLook(ctx, env, path)
	if err != nil {
		return nil, err
	}
	state := s.State()
	return state, s.Close()
}

// openToLook opens a shop for reading only.
func openToLook(ctx context.Context, env *Env, path string) (*store.Store, error) {
	s, err := openStore(ctx, env, path, store.Options{ReadOnly: true})
	if err == nil {
		if _, err = identified(ctx, env, s); err != nil {
			return nil, errors.Join(err, s.Close())
		}
	}
	if store.Is(err, store.Missing) && store.OnServer(path) {
		return nil, err // it says which shops there are
	}
	if store.Is(err, store.Missing) {
		return nil, &failure{what: fact.Say("cli.no_shop", fact.Name("path", store.Shown(path))), err: err,
			advice: fact.Say("cli.do_name_shop")}
	}
	return s, err
}

// readShopIfAny is readShop for commands that can do without a shop: an empty
// one stands in when none was named and none is in the data folder.
func readShopIfAny(c *cobra.Command, env *Env) (*shop.State, error) {
	state, err := readShop(c, env)
	named, _ := c.Flags().GetString("shop")
	if err != nil && store.Is(err, store.Missing) && named == "" && env.Getenv(shopVariable) == "" {
		return shop.Fold(nil)
	}
	return state, err
}

// books is a shop open for writing. One that is not there yet is made with its
// first record, so that a refused one leaves nothing behind. One that a running
// server holds is written through it.
type books struct {
	store   *store.Store // nil until the shop is made, and where a server holds it
	through *web.Caller  // nil: no server holds it
	path    string
	env     *Env
	who     string // the account that asks; "" where there are none
}

// How long a command waits for another that writes, and how often it looks.
const (
	waitForOther = 20 * time.Second
	lookForOther = 50 * time.Millisecond
)

// openShop opens the shop for writing: itself, through the server that holds it, or
// when another command is done with it.
func openShop(c *cobra.Command, env *Env) (*books, error) {
	path, err := shopPath(c, env)
	if err != nil {
		return nil, err
	}
	ctx := c.Context()
	for last := time.Now().Add(waitForOther); ; {
		s, err := openStore(ctx, env, path, store.Options{})
		if err == nil {
			who, no := identified(ctx, env, s)
			if no != nil {
				return nil, errors.Join(no, s.Close())
			}
			return &books{store: s, path: path, env: env, who: who}, nil
		}
		if store.Is(err, store.Missing) {
			return &books{path: path, env: env}, nil
		}
		if !store.Is(err, store.InUse) || store.OnServer(path) {
			return nil, err
		}
		through, no := web.Reach(ctx, path, env.Getenv(tokenVariable))
		var refused *web.Refused
		if errors.As(no, &refused) {
			return nil, &failure{what: fact.Verbatim(refused.Say), advice: fact.Verbatim(refused.Hint), err: no}
		}
		if no == nil {
			return &books{through: through, path: path, env: env}, nil
		}
		if time.Now().After(last) {
			return nil, err
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-time.After(lookForOther):
		}
	}
}

// State is the shop as it is; empty before it is made.
func (b *books) State() (*shop.State, error) {
	if b.through != nil {
		return stateAt(context.Background(), b.env, b.path)
	}
	if b.store == nil {
		return shop.Fold(nil)
	}
	return b.store.State(), nil
}

// Append keeps one record and returns it as kept, and the shop with it.
func (b *books) Append(ctx context.Context, r shop.Record) (shop.Record, *shop.State, error) {
	kept, after, err := b.AppendAll(ctx, r)
	if err != nil {
		return shop.Record{}, nil, err
	}
	return kept[0], after, nil
}

// AppendAll keeps all of the records or none, and returns them as kept, and the
// shop with them.
func (b *books) AppendAll(ctx context.Context, rs ...shop.Record) ([]shop.Record, *shop.State, error) {
	if b.through != nil {
		return b.appendThrough(ctx, rs)
	}
	if b.store == nil {
		before, err := b.State()
		if err == nil {
			_, err = before.Admit(b.env.Now(), rs...)
		}
		if err == nil {
			b.store, err = openOrCreate(ctx, b.env, b.path)
		}
		if err != nil {
			return nil, nil, err
		}
	}
	kept, err := b.store.Append(account.As(ctx, b.who), b.env.Now(), rs...)
	if err != nil {
		return nil, nil, err
	}
	return kept, b.store.State(), nil
}

// appendThrough writes through the running server. What the shop refuses is
// refused here already, in the words of this command.
func (b *books) appendThrough(ctx context.Context, rs []shop.Record) ([]shop.Record, *shop.State, error) {
	before, err := stateAt(ctx, b.env, b.path)
	if err == nil {
		_, err = before.Admit(b.env.Now(), rs...)
	}
	if err != nil {
		return nil, nil, err
	}
	kept, err := b.through.Append(ctx, rs...)
	var refused *web.Refused
	switch {
	case errors.As(err, &refused):
		return nil, nil, &failure{what: fact.Verbatim(refused.Say), advice: fact.Verbatim(refused.Hint), err: err}
	case err != nil:
		return nil, nil, &failure{what: fact.Say("cli.write_unknown", fact.Name("why", err.Error())), advice: fact.Say("cli.do_records_last"), err: err}
	}
	after, err := stateAt(ctx, b.env, b.path)
	return kept, after, err
}

// Close lets go of the shop.
func (b *books) Close() error {
	if b.store == nil {
		return nil
	}
	return b.store.Close()
}

// openOrCreate opens the shop and makes it when it is not there.
func openOrCreate(ctx context.Context, env *Env, path string) (*store.Store, error) {
	s, err := openStore(ctx, env, path, store.Options{})
	if !store.Is(err, store.Missing) {
		return s, err
	}
	// Only the data folder is ours to make; a folder the user named must be there.
	home, homeErr := store.DefaultPath(env.Getenv)
	ours := homeErr == nil && filepath.Clean(path) == filepath.Clean(home)
	s, err = store.Create(ctx, path, store.Options{MakeFolder: ours})
	if err == nil {
		fmt.Fprintln(env.Err, env.speaks().Line("cli.shop_made", fact.Name("path", store.Shown(path))))
	}
	return s, err
}
