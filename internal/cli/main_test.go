package cli

import (
	"context"
	"os"
	"os/signal"
	"path/filepath"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"hopperful/internal/account"
	"hopperful/internal/live"
	"hopperful/internal/store/pgtest"
	"hopperful/plan/sensing"
	"hopperful/process/trace"
)

// TestMain lets the test program stand in for hopperful itself, so that
// scripts can run the real thing in processes of their own.
func TestMain(m *testing.M) {
	account.CheapInTests()
	testscript.Main(stopping{m}, map[string]func(){"hopperful": func() {
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
		code := Main(ctx, os.Args[1:], Env{In: os.Stdin, Out: os.Stdout, Err: os.Stderr,
			Getenv: os.Getenv, Now: time.Now, Build: "(test)"})
		stop()
		os.Exit(code)
	}})
}

// stopping ends the server that tests may have started when they are over.
type stopping struct{ m *testing.M }

func (s stopping) Run() int {
	time.Local = time.UTC // as in the processes that scripts start
	defer pgtest.Stop()
	return s.m.Run()
}

// demoShop makes the invented shop once for all tests and returns the bytes of
// its files by name.
var demoShop = sync.OnceValues(func() (map[string][]byte, error) {
	folder, err := os.MkdirTemp("", "hopperful-test-*")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	env := Env{Out: os.Stdout, Err: os.Stderr, Getenv: func(string) string { return "" }, Now: time.Now}
	s, err := makeDemo(context.Background(), &env, filepath.Join(folder, "made.hopperful"))
	if err != nil {
		return nil, err
	}
	// A backup is one file with everything in it.
	if err := s.Backup(context.Background(), filepath.Join(folder, "lantern.hopperful")); err != nil {
		return nil, err
	}
	if err := s.Close(); err != nil {
		return nil, err
	}
	files := map[string][]byte{}
	for _, name := range []string{"lantern.hopperful", "vase.gcode", "wedge.stl", "feet.3mf"} {
		if files[name], err = os.ReadFile(filepath.Join(folder, name)); err != nil {
			return nil, err
		}
	}
	return files, nil
})

// settle puts the invented shop and its files into a folder.
func settle(folder string) error {
	files, err := demoShop()
	if err != nil {
		return err
	}
	for name, bytes := range files {
		if err := os.WriteFile(filepath.Join(folder, name), bytes, 0o644); err != nil {
			return err
		}
	}
	if err := live.SaveRuns(filepath.Join(folder, "lantern.hopperful"), []sensing.Run{seenRun()}); err != nil {
		return err
	}
	return pictures(folder)
}

// seenRun is a run that a meter saw at the demo's mill and nobody wrote down.
func seenRun() sensing.Run {
	const start = 1795176021 // 2026-11-20 12:00:21 UTC
	r := sensing.Run{ID: start, Mill: "Grumble"}
	r.Start, r.Stop = trace.Moment{At: start, Doubt: 0.5}, trace.Moment{At: start + 62, Doubt: 0.5}
	r.Level, r.Top, r.Gap, r.Energy = 310, 390, 1, trace.Joules{Mid: 19800, Low: 19500, High: 20100}
	wall, room := 312.4, 293.6
	r.WallAfter, r.RoomAt = &wall, &room
	return r
}

// pictures puts photographs of grains into a folder: rendered ones, of package grain.
func pictures(folder string) error {
	for from, names := range map[string][]string{"spread.jpg": {"a.jpg", "b.jpg", "coarse.jpg", "fine.jpg"}, "heap.jpg": {"heap.jpg"}, "coins.png": {"coins.png"}} {
		bytes, err := os.ReadFile(filepath.Join("..", "..", "process", "grain", "testdata", from))
		if err != nil {
			return err
		}
		for _, name := range names {
			if err := os.WriteFile(filepath.Join(folder, name), bytes, 0o644); err != nil {
				return err
			}
		}
	}
	return nil
}

func TestScripts(t *testing.T) {
	t.Parallel()
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			e.Setenv("HOME", filepath.Join(e.WorkDir, "home"))
			e.Setenv("XDG_DATA_HOME", "")
			e.Setenv("TZ", "UTC")
			return settle(e.WorkDir)
		},
		Cmds:      scriptCommands(),
		Condition: installed,
	})
}
