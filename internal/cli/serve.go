package cli

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/live"
	"hopperful/internal/store"
	"hopperful/internal/tokens"
	"hopperful/internal/web"
	"hopperful/internal/web/door"
)

// defaultListen is an address only this computer can reach; the port is one
// that no standard service is registered for.
const defaultListen = "127.0.0.1:8614"

// passphraseVariable names the environment variable that may hold the
// passphrase.
const passphraseVariable = "HOPPERFUL_PASSPHRASE"

// mostPassphrase bounds the file a passphrase is read from.
const mostPassphrase = 4096

// pages say how the pages are served.
type pages struct {
	listen         string
	hosts          []string
	passphraseFile string
	verbose        bool
	encryption
}

func (p *pages) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&p.listen, "listen", defaultListen, "")
	f.StringArrayVar(&p.hosts, "host", nil, "")
	f.StringVar(&p.passphraseFile, "passphrase-file", "", "")
	f.BoolVar(&p.verbose, "verbose", false, "")
	p.encryption.flags(c)
}

func serveCommand(env *Env) *cobra.Command {
	var p pages
	c := &cobra.Command{
		Use: "serve",
		Example: `  hopperful serve --listen 127.0.0.1:0
  hopperful serve --listen 0.0.0.0:0 --host workshop.local --passphrase-file passphrase.txt
  hopperful serve --listen 0.0.0.0:0 --https --host workshop.local --passphrase-file passphrase.txt`,
		Args: takes(0, 0, "takes.flags_only"),
		RunE: func(c *cobra.Command, _ []string) error {
			passphrase, err := p.passphrase(c, env)
			if err != nil {
				return err
			}
			path, err := shopPath(c, env)
			if err != nil {
				return err
			}
			if env.Getenv("GOGC") == "" {
				defer collectLater()()
			}
			books, err := openOrCreate(c.Context(), env, path)
			if store.Is(err, store.ReadOnly) {
				books, err = openStill(c.Context(), env, path, err)
			}
			if err != nil {
				return err
			}
			defer books.Close()
			return p.serve(c, env, books, passphrase)
		},
	}
	p.flags(c)
	shopFlag(c)
	return c
}

// openStill opens a shop that may not be written, to be looked at, and says so.
func openStill(ctx context.Context, env *Env, path string, why error) (*store.Store, error) {
	s, err := openStore(ctx, env, path, store.Options{ReadOnly: true})
	if err != nil {
		return nil, why // what kept it from being written says more
	}
	fmt.Fprintln(env.Err, env.speaks().Line("cli.shop_only_shown", fact.Name("path", store.Shown(path))))
	return s, nil
}

// passphrase reads the passphrase and insists on one where others can reach
// the pages.
func (p *pages) passphrase(c *cobra.Command, env *Env) (string, error) {
	word, from := strings.TrimSpace(env.Getenv(passphraseVariable)), passphraseVariable
	if p.passphraseFile != "" {
		text, err := os.ReadFile(p.passphraseFile)
		if err != nil {
			return "", err
		}
		if len(text) > mostPassphrase {
			return "", &failure{what: fact.Say("cli.passphrase_too_long", fact.Name("passphrase_file", p.passphraseFile), fact.Count("most_passphrase", mostPassphrase))}
		}
		word, from = strings.TrimSpace(string(text)), p.passphraseFile
		if word == "" {
			return "", &failure{what: fact.Say("cli.passphrase_file_empty", fact.Name("passphrase_file", p.passphraseFile)), advice: fact.Say("cli.do_write_passphrase")}
		}
	}
	host, _, err := net.SplitHostPort(p.listen)
	if err != nil {
		return "", usagef(c, fact.Say("cli.not_a_listen", fact.Name("listen", p.listen), fact.Name("default_listen", defaultListen)))
	}
	if word == "" && !loopback(host) {
		return "", usagef(c, fact.Say("cli.passphrase_needed", fact.Name("listen", p.listen), fact.Name("passphrase_variable", passphraseVariable)))
	}
	if n := utf8.RuneCountInString(word); word != "" && n < door.LeastPassphrase {
		return "", &failure{what: fact.Say("cli.passphrase_short", fact.Name("from", from), fact.Count("n", n), fact.Count("least_passphrase", int(door.LeastPassphrase))),
			advice: fact.Say("cli.do_few_words")}
	}
	return word, nil
}

// loopback says whether only this computer can reach the host.
func loopback(host string) bool {
	ip := net.ParseIP(host)
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// serve listens, says where, and serves until the context ends.
func (p *pages) serve(c *cobra.Command, env *Env, s *store.Store, passphrase string) error {
	ctx := c.Context()
	listener, err := (&net.ListenConfig{}).Listen(ctx, "tcp", p.listen)
	if err != nil {
		return notListening(p.listen, err)
	}
	level := slog.LevelWarn
	if p.verbose {
		level = slog.LevelInfo
	}
	options := web.Options{Now: env.Now, Hosts: p.hosts, Passphrase: passphrase, Version: env.Build,
		Logger: slog.New(slog.NewTextHandler(env.Err, &slog.HandlerOptions{Level: level}))}
	beside, err := besideShop(env, s.Path())
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	if !s.ReadOnly() {
		if options.Door, err = web.OpenDoor(beside); err != nil {
			return errors.Join(err, listener.Close())
		}
		defer options.Door.Close()
	}
	options.Tokens = tokens.Folder(store.Beside(beside, tokens.Ending))
	if options.Secure, err = p.open(c, env, beside, p.hosts, listener.Addr()); err != nil {
		return errors.Join(err, listener.Close())
	}
	if !s.ReadOnly() {
		sensors := live.NewService(beside, live.Options{Now: env.Now, Log: options.Logger, TLS: ownTLS(c, env, beside), Keep: true})
		listening, end := context.WithCancel(ctx)
		done := make(chan struct{})
		go func() { defer close(done); sensors.Run(listening) }()
		defer func() { end(); <-done }()
		options.Live = sensors
	}
	if err := p.announce(c, env, s, listener.Addr()); err != nil {
		return errors.Join(err, listener.Close())
	}
	err = web.Serve(ctx, listener, s, options)
	if ctx.Err() != nil {
		fmt.Fprintln(env.Err, env.speaks().Line("cli.stopped"))
	}
	return err
}

// besideShop begins the names of files that belong to a shop and to this computer:
// for a shop on a server they lie in the user's data folder.
func besideShop(env *Env, path string) (string, error) {
	if !store.OnServer(path) {
		return path, nil
	}
	home, err := store.DefaultPath(env.Getenv)
	if err != nil {
		return "", err
	}
	folder := filepath.Dir(home)
	_, name, _ := strings.Cut(path, "#")
	return filepath.Join(folder, "server-"+name), os.MkdirAll(folder, 0o755)
}

func notListening(listen string, err error) error {
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return &failure{what: fact.Say("cli.port_in_use", fact.Name("listen", listen)), err: err,
			advice: fact.Say("cli.do_open_or_port")}
	case errors.Is(err, syscall.EACCES):
		return &failure{what: fact.Say("cli.port_not_allowed", fact.Name("listen", listen)), err: err, advice: fact.Say("cli.do_higher_port")}
	}
	return &failure{what: fact.Say("cli.listen_failed", fact.Name("listen", listen), fact.Name("why", err.Error())), err: err,
		advice: fact.Say("cli.do_own_address", fact.Name("default_listen", defaultListen))}
}

// announce prints where the pages are, and what to mind.
func (p *pages) announce(c *cobra.Command, env *Env, s *store.Store, at net.Addr) error {
	address := "http://" + at.String() + "/"
	if p.on() {
		address = "https://" + at.String() + "/"
	}
	fmt.Fprintln(env.Err, env.speaks().Line("cli.shop_path", fact.Name("path", s.Path())))
	fmt.Fprintln(env.Err, env.speaks().Line("cli.no_safety_device"))
	host, _, err := net.SplitHostPort(at.String())
	switch {
	case err != nil || loopback(host):
	case !p.on():
		fmt.Fprintln(env.Err, env.speaks().Line("cli.pages_unencrypted"))
	default:
		for _, one := range reachedBy(at, p.hosts) {
			fmt.Fprintln(env.Err, env.speaks().Line("cli.from_network_https", fact.Name("one", one)))
		}
		if p.https {
			fmt.Fprintln(env.Err, env.speaks().Line("cli.phone_trusts"))
		}
	}
	if asJSON(c) {
		return writeJSON(env, struct {
			Address string `json:"address"`
			Shop    string `json:"shop"`
		}{address, s.Path()})
	}
	plain(env.Out, "%s", address)
	return nil
}
