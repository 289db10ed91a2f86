// Command hopperful helps a workshop turn failed prints into granulate.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"
	_ "time/tzdata" // a container and a bare system have no list of zones

	"golang.org/x/term"

	"hopperful/internal/cli"
)

func main() {
	ask := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) { // under nohup it stays ignored
		ask = append(ask, syscall.SIGHUP)
	}
	ctx, stop := signal.NotifyContext(context.Background(), ask...)
	context.AfterFunc(ctx, stop)   // asked once, it stops in order; asked again, at once
	signal.Ignore(syscall.SIGPIPE) // a reader that leaves ends the answer, not the tidying up
	columns, _, err := term.GetSize(int(os.Stdout.Fd()))
	if err != nil {
		columns = 0 // no terminal, or one that does not say
	}
	code := cli.Main(ctx, os.Args[1:], cli.Env{
		In:          os.Stdin,
		Out:         os.Stdout,
		Err:         os.Stderr,
		Getenv:      os.Getenv,
		Now:         time.Now,
		Build:       built(),
		OutTerminal: term.IsTerminal(int(os.Stdout.Fd())),
		Columns:     columns,
		ErrTerminal: term.IsTerminal(int(os.Stderr.Fd())),
	})
	stop()
	os.Exit(code)
}

// version is set when a release is built.
var version string

// built says what this program was built from, as far as the build noted it.
func built() string {
	facts, ok := debug.ReadBuildInfo()
	if !ok {
		return "(unknown build)"
	}
	text := facts.Main.Version
	if version != "" {
		text = version
	}
	for _, s := range facts.Settings {
		switch {
		case s.Key == "vcs.revision":
			text += ", revision " + s.Value
		case s.Key == "vcs.modified" && s.Value == "true":
			text += " with changes"
		}
	}
	return text + ", " + facts.GoVersion
}
