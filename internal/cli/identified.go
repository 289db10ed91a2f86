package cli

import (
	"context"
	"errors"

	"hopperful/internal/account"
	"hopperful/internal/store"
)

// tokenVariable names the environment variable that may hold the token of an account.
const tokenVariable = "HOPPERFUL_TOKEN"

// identified is the account that asks on the command line, by its token: "" where the
// shop has none. What it may do is decided where it is written.
func identified(ctx context.Context, env *Env, s *store.Store) (string, error) {
	if !env.heard { // what is refused next is said in the shop's language too
		env.hear(s.State())
	}
	any, err := s.HasAccounts(ctx)
	if err != nil || !any {
		return "", err
	}
	own, ok, err := s.SessionOf(ctx, env.Now(), env.Getenv(tokenVariable), "")
	if err == nil && (!ok || own.Program == "") {
		err = account.ErrUnknown()
	}
	return own.Account, err
}

// must refuses an account whose role is not enough for what the store is not asked about:
// what puts another shop in the place of this one, or changes what is kept beside it. A
// shop that is not there, or can no longer be read, has no accounts.
func must(ctx context.Context, env *Env, path string, asked account.Role) error {
	s, err := store.Open(ctx, path, store.Options{ReadOnly: true})
	if err != nil {
		return nil
	}
	defer s.Close()
	who, err := identified(ctx, env, s)
	if err != nil || who == "" {
		return err
	}
	list, err := s.Accounts(ctx)
	for _, a := range list {
		if a.Name == who {
			return errors.Join(err, account.Check(who, a.Role, asked))
		}
	}
	return errors.Join(err, account.ErrUnknown())
}
