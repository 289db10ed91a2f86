package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/account"
	"hopperful/internal/store"
)

// accountJSON is an account in JSON; never anything of its passphrase.
type accountJSON struct {
	Name  string `json:"name"`
	Role  string `json:"role"`
	Since string `json:"since"`
}

// tokenJSON is a token, said once.
type tokenJSON struct {
	Account string `json:"account"`
	Token   string `json:"token"`
}

func accountCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:     "account",
		Example: `  hopperful account list`,
		Args:    takes(1, 1, "takes.list_add_set_remove_or"),
		RunE: func(c *cobra.Command, args []string) error {
			return usagef(c, fact.Say("cli.no_account_command", fact.Name("word", args[0])))
		},
	}
	c.AddCommand(accountList(env), accountAdd(env), accountSet(env), accountRemove(env), accountToken(env))
	return c
}

// withAccounts opens the shop for writing and asks as the account of the token.
func withAccounts(c *cobra.Command, env *Env, do func(ctx context.Context, s *store.Store) error) error {
	path, err := shopPath(c, env)
	if err != nil {
		return err
	}
	s, err := openOrCreate(c.Context(), env, path)
	if store.Is(err, store.InUse) {
		return &failure{what: fact.Say("cli.shop_served"), err: err, advice: fact.Say("cli.do_accounts_on_page")}
	}
	if err != nil {
		return err
	}
	defer s.Close()
	who, err := identified(c.Context(), env, s)
	if err != nil {
		return err
	}
	return do(account.As(c.Context(), who), s)
}

// passphraseFlag adds the flag for the file of a passphrase.
func passphraseFlag(c *cobra.Command) *string {
	return c.Flags().String("passphrase-file", "", "")
}

// readPassphrase reads a passphrase from a file, or the first line of standard input.
func readPassphrase(env *Env, file string) (string, error) {
	var from io.Reader = env.In
	if file != "" {
		f, err := os.Open(file)
		if err != nil {
			return "", err
		}
		defer f.Close()
		from = f
	}
	if from == nil {
		from = strings.NewReader("")
	}
	line, err := bufio.NewReader(io.LimitReader(from, mostPassphrase)).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return "", err
	}
	return strings.TrimSpace(line), nil
}

func accountList(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:     "list",
		Example: `  hopperful account list --json`,
		Args:    takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			path, err := shopPath(c, env)
			if err != nil {
				return err
			}
			s, err := openToLook(c.Context(), env, path)
			if err != nil {
				return err
			}
			defer s.Close()
			list, err := s.Accounts(c.Context())
			if err != nil {
				return err
			}
			if asJSON(c) {
				out := []accountJSON{}
				for _, a := range list {
					out = append(out, accountJSON{a.Name, string(a.Role), a.Since.Format(time.RFC3339)})
				}
				return writeJSON(env, struct {
					Accounts []accountJSON `json:"accounts"`
				}{out})
			}
			if len(list) == 0 {
				plain(env.Out, "%s", env.speaks().Line("cli.accounts_none"))
				plain(env.Out, "%s", env.speaks().Line("cli.account_first"))
			}
			for _, a := range list {
				plain(env.Out, "%-6s  %s", a.Role, env.speaks().Line("cli.since", fact.Name("name", a.Name), fact.Name("day", a.Since.Format("2006-01-02"))))
			}
			return nil
		},
	}
	shopFlag(c)
	return c
}

func accountAdd(env *Env) *cobra.Command {
	var role string
	c := &cobra.Command{
		Use:     "add NAME",
		Example: `  hopperful account add Ada --role own --passphrase-file passphrase.txt`,
		Args:    takes(1, 1, "takes.a_name"),
	}
	file := passphraseFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		passphrase, err := readPassphrase(env, *file)
		if err != nil {
			return err
		}
		return withAccounts(c, env, func(ctx context.Context, s *store.Store) error {
			name := args[0]
			if err := s.AddAccount(ctx, env.Now(), name, account.Role(role), passphrase); err != nil {
				return err
			}
			if !asJSON(c) {
				fmt.Fprintln(env.Err, env.speaks().Line("cli.account_made", fact.Name("name", name), fact.Name("role", role)))
			}
			return makeToken(account.As(ctx, name), c, env, s, name, "command line")
		})
	}
	c.Flags().StringVar(&role, "role", string(account.Record), "")
	shopFlag(c)
	return c
}

// makeToken makes a token and says it.
func makeToken(ctx context.Context, c *cobra.Command, env *Env, s *store.Store, name, program string) error {
	token, err := s.Begin(ctx, env.Now(), account.Session{Account: name, Program: program})
	if err != nil {
		return err
	}
	if asJSON(c) {
		return writeJSON(env, tokenJSON{name, token})
	}
	fmt.Fprintln(env.Err, env.speaks().Line("cli.token_once", fact.Name("name", name), fact.Name("token_variable", tokenVariable)))
	plain(env.Out, "%s", token)
	return nil
}

func accountSet(env *Env) *cobra.Command {
	var role string
	var anew bool
	c := &cobra.Command{
		Use: "set NAME",
		Example: `  hopperful account add Ada --role own --passphrase-file passphrase.txt
  hopperful account add Ben --role record --passphrase-file passphrase.txt
  hopperful account set Ben --role plan`,
		Args: takes(1, 1, "takes.a_name"),
	}
	file := passphraseFlag(c)
	c.RunE = func(c *cobra.Command, args []string) error {
		if role == "" && !anew && *file == "" {
			return usagef(c, fact.Say("cli.do_say_change"))
		}
		passphrase := ""
		if anew || *file != "" {
			var err error
			if passphrase, err = readPassphrase(env, *file); err == nil && passphrase == "" {
				_, err = account.Hash("")
			}
			if err != nil {
				return err
			}
		}
		return withAccounts(c, env, func(ctx context.Context, s *store.Store) error {
			if err := s.ChangeAccount(ctx, args[0], account.Role(role), passphrase); err != nil {
				return err
			}
			plain(env.Out, "%s", env.speaks().Line("cli.is_changed", fact.Name("word", args[0])))
			return nil
		})
	}
	c.Flags().StringVar(&role, "role", "", "")
	c.Flags().BoolVar(&anew, "passphrase", false, "")
	shopFlag(c)
	return c
}

func accountRemove(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "remove NAME",
		Example: `  hopperful account add Ada --role own --passphrase-file passphrase.txt
  hopperful account add Ben --role record --passphrase-file passphrase.txt
  hopperful account remove Ben`,
		Args: takes(1, 1, "takes.a_name"),
		RunE: func(c *cobra.Command, args []string) error {
			return withAccounts(c, env, func(ctx context.Context, s *store.Store) error {
				if err := s.RemoveAccount(ctx, args[0]); err != nil {
					return err
				}
				plain(env.Out, "%s", env.speaks().Line("cli.account_removed", fact.Name("word", args[0])))
				return nil
			})
		},
	}
	shopFlag(c)
	return c
}

func accountToken(env *Env) *cobra.Command {
	var program string
	c := &cobra.Command{
		Use: "token NAME",
		Example: `  hopperful account add Ada --role own --passphrase-file passphrase.txt
  hopperful account token Ada --program "scale at the mill"`,
		Args: takes(1, 1, "takes.a_name"),
		RunE: func(c *cobra.Command, args []string) error {
			return withAccounts(c, env, func(ctx context.Context, s *store.Store) error {
				return makeToken(ctx, c, env, s, args[0], program)
			})
		},
	}
	c.Flags().StringVar(&program, "program", "command line", "")
	shopFlag(c)
	return c
}
