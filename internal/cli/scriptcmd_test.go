package cli

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"hopperful/internal/store/pgtest"
)

// scriptCommands are what our scripts need beyond testscript's own.
func scriptCommands() map[string]func(*testscript.TestScript, bool, []string) {
	return map[string]func(*testscript.TestScript, bool, []string){
		"here":    here,
		"code":    wantCode,
		"held":    held,
		"served":  served,
		"damage":  damage,
		"occupy":  occupy,
		"repeat":  repeat,
		"server":  server,
		"tokened": tokened,
	}
}

// installed answers [postgres]: whether there is a server to test on, which CI must have.
func installed(what string) (bool, error) {
	if what != "postgres" {
		return false, fmt.Errorf("unknown condition %q", what)
	}
	_, err := pgtest.Shared()
	if err != nil && os.Getenv("CI") == "true" {
		return false, fmt.Errorf("PostgreSQL may not be left out here: %w", err)
	}
	return err == nil, nil
}

// tokened sets the token of an account to what stands in a file: tokened ada.token.
func tokened(ts *testscript.TestScript, _ bool, args []string) {
	ts.Setenv(tokenVariable, strings.TrimSpace(ts.ReadFile(args[0])))
}

// server sets variables to addresses of shops on a server: server LANTERN=lantern.
func server(ts *testscript.TestScript, _ bool, args []string) {
	s, err := pgtest.Shared()
	ts.Check(err)
	for _, a := range args {
		name, shop, _ := strings.Cut(a, "=")
		ts.Setenv(name, s.Address(shop))
	}
}

// here runs a command in the process of the test: here hopperful plan 240g. A process of its own,
// exec hopperful plan 240g, spends more on starting than most commands on answering; it stays where
// standard input is read, several run at the same time, or what is said of a file's name is looked at.
func here(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) < 1 || args[0] != "hopperful" || slices.Contains(args, "-") {
		ts.Fatalf("usage: here hopperful command…, without standard input")
	}
	if code := runHere(ts, args[1:]); neg != (code != exitDone) {
		ts.Fatalf("exit code %d", code)
	}
}

// filesWhole are the words with the names of files in the script's folder made whole.
func filesWhole(ts *testscript.TestScript, words []string) []string {
	out := slices.Clone(words)
	for i, w := range words {
		at := strings.LastIndexByte(w, '=') + 1
		_, err := os.Stat(ts.MkAbs(w[at:]))
		if name := w[at:]; name != "" && !filepath.IsAbs(name) && (err == nil || fileName.MatchString(name)) {
			out[i] = w[:at] + ts.MkAbs(name)
		}
	}
	return out
}

// fileName is what a word looks like that names a file in the script's folder.
var fileName = regexp.MustCompile(`^[\w-][\w/-]*\.[a-z][a-z0-9]+$`)

// runHere runs a command as a process of the script's would, but for the folder it stands in: it is
// given whole names of files.
func runHere(ts *testscript.TestScript, args []string) (code int) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	return Main(ctx, filesWhole(ts, args), Env{In: strings.NewReader(""), Out: ts.Stdout(), Err: ts.Stderr(), Getenv: ts.Getenv, Now: time.Now, Build: "(test)"})
}

// wantCode runs a command and holds its exit code against the first word:
// code 2 hopperful plan. It runs in the test's process unless standard input is read.
func wantCode(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: code N command…")
	}
	got := ""
	if args[1] == "hopperful" && !slices.Contains(args, "-") {
		got = strconv.Itoa(runHere(ts, args[2:]))
	} else {
		err := ts.Exec(args[1], args[2:]...)
		var exit interface{ ExitCode() int }
		switch {
		case err == nil:
			got = "0"
		case errors.As(err, &exit):
			got = strconv.Itoa(exit.ExitCode())
		default:
			ts.Fatalf("%v", err)
		}
	}
	if got != args[0] {
		ts.Fatalf("exit code %s, wanted %s", got, args[0])
	}
}

// damage overwrites the middle of a file, as a failing disk would.
func damage(ts *testscript.TestScript, _ bool, args []string) {
	name := ts.MkAbs(args[0])
	text, err := os.ReadFile(name)
	ts.Check(err)
	for i := 100; i < len(text); i++ {
		text[i] = byte(i * 7)
	}
	ts.Check(os.WriteFile(name, text, 0o644))
}

// occupy listens on a free port and puts its address into a variable.
func occupy(ts *testscript.TestScript, _ bool, args []string) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	ts.Check(err)
	ts.Defer(func() { l.Close() })
	ts.Setenv(args[0], l.Addr().String())
}

// held waits until a background command has the shop open for writing: its
// lock then names the program that holds it.
func held(ts *testscript.TestScript, _ bool, args []string) {
	for range 200 {
		if text, err := os.ReadFile(ts.MkAbs(args[0]) + ".lock"); err == nil && len(text) > 0 {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	ts.Fatalf("nothing opened %s for writing", args[0])
}

// served waits until the pages of HOPPERFUL_SHOP answer.
func served(ts *testscript.TestScript, _ bool, _ []string) {
	for range 400 {
		if ts.Exec("hopperful", "doctor", "--running") == nil {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	ts.Fatalf("nothing serves %s", ts.Getenv("HOPPERFUL_SHOP"))
}

// repeat writes a file of so many copies of a text.
func repeat(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Repeat(args[2], n)), 0o644))
}
