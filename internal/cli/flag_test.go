package cli

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/quantity"
	"hopperful/shop"
)

func TestMomentsAreReadAsPeopleMeanThem(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 11, 25, 16, 40, 30, 0, time.FixedZone("there", 3600))
	for _, c := range []struct {
		text  string
		ahead bool
		want  string
	}{
		{"16:05", false, "2026-11-25T16:05:00+01:00"},
		{"18:00", false, "2026-11-25T18:00:00+01:00"}, // the shop refuses it, not we
		{"18:00", true, "2026-11-25T18:00:00+01:00"},
		{"16:05", true, "2026-11-26T16:05:00+01:00"},
		{"2026-11-20", false, "2026-11-20T00:00:00+01:00"},
		{"2026-11-20 09:30", false, "2026-11-20T09:30:00+01:00"},
		{"2026-11-20T09:30:00Z", false, "2026-11-20T09:30:00Z"},
	} {
		got, err := parseWhen(c.text, now, c.ahead)
		if err != nil || got.Format(time.RFC3339) != c.want {
			t.Errorf("%q: got %s, %v, wanted %s", c.text, got.Format(time.RFC3339), err, c.want)
		}
	}
	for _, text := range []string{"", "soon", "25:00", "2026-13-01", "16.40"} {
		if got, err := parseWhen(text, now, false); err == nil {
			t.Errorf("%q was read as %s", text, got)
		}
	}
}

func TestFlagsReadValuesAndUnknown(t *testing.T) {
	t.Parallel()
	var kg *float64
	f := quantityFlag{quantity.Mass, &kg}
	if err := f.Set("180 g"); err != nil || kg == nil || *kg != 0.18 || f.String() != "180 g" {
		t.Errorf("got %v, %v, %q", kg, err, f.String())
	}
	if err := f.Set("unknown"); err != nil || kg != nil || f.String() != "" {
		t.Errorf("unknown left %v, %v", kg, err)
	}
	var watts []shop.LevelWatts
	for _, text := range []string{"10=640W", "6=330W", "10=650 W"} {
		if err := (wattsFlag{&watts}).Set(text); err != nil {
			t.Fatal(err)
		}
	}
	if len(watts) != 2 || watts[0].Level != 6 || watts[1].Watts != 650 {
		t.Errorf("got %v", watts)
	}
	var answer shop.YesNo
	for text, want := range map[string]shop.YesNo{"yes": shop.Yes, "No": shop.No, "unknown": shop.Unknown} {
		if err := (yesNoFlag{&answer}).Set(text); err != nil || answer != want {
			t.Errorf("%q: got %q, %v", text, answer, err)
		}
	}
	for _, err := range []error{(wattsFlag{&watts}).Set("640W"), (wattsFlag{&watts}).Set("3=warm"), (yesNoFlag{&answer}).Set("maybe"),
		(levelFlag{new(*int)}).Set("high")} {
		if err == nil {
			t.Error("nonsense was taken")
		}
	}
}

// A long read draws on a terminal what is left, and nothing before a second is
// over or into a pipe.
func TestProgressIsForTerminalsAndLongReads(t *testing.T) {
	t.Parallel()
	var said bytes.Buffer
	clock := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	env := Env{Err: &said, ErrTerminal: true, Now: func() time.Time { return clock }}
	ctx, stop := context.WithCancel(t.Context())
	p := watch(ctx, &env, strings.NewReader(strings.Repeat("x", 1000)), "part.gcode", 1000)
	read := func(off int64) {
		if _, err := p.ReadAt(make([]byte, 100), off); err != nil {
			t.Fatal(err)
		}
	}
	read(0)
	if said.Len() > 0 {
		t.Errorf("said %q within the first second", said.String())
	}
	clock = clock.Add(2 * time.Second)
	read(400)
	if !strings.Contains(said.String(), "reading part.gcode: 50 %, about 2s to go") {
		t.Errorf("said %q", said.String())
	}
	p.done()
	if !strings.HasSuffix(said.String(), "\r\033[K") {
		t.Errorf("left the line standing: %q", said.String())
	}
	env.ErrTerminal = false
	said.Reset()
	read(500)
	if said.Len() > 0 {
		t.Errorf("drew into a pipe: %q", said.String())
	}
	stop()
	if _, err := p.ReadAt(make([]byte, 100), 500); !errors.Is(err, context.Canceled) {
		t.Errorf("went on reading after it was stopped: %v", err)
	}
}

func TestColourOnlyOnATerminalThatWantsIt(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		terminal bool
		vars     map[string]string
		want     bool
	}{
		{true, nil, true},
		{false, nil, false},
		{true, map[string]string{"NO_COLOR": "1"}, false},
		{true, map[string]string{"TERM": "dumb"}, false},
	} {
		var out bytes.Buffer
		env := Env{Out: &out, OutTerminal: c.terminal, Getenv: func(n string) string { return c.vars[n] }}
		g := newGrid(&env, "lot", ">mass")
		g.row("S1", "90 g")
		g.print()
		heading(&env, "Title")
		if got := strings.Contains(out.String(), "\033["); got != c.want {
			t.Errorf("%+v: coloured is %v in %q", c, got, out.String())
		}
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }

// An answer that does not get out is no success.
func TestAFullDiskIsNotTakenForSuccess(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	for _, args := range [][]string{{"materials"}, {"materials", "--json"}, {"need", "20g"}, {"completion", "bash"}} {
		var errs bytes.Buffer
		env := Env{Out: full{}, Err: &errs, Getenv: func(name string) string {
			return map[string]string{"HOME": home}[name]
		}, Now: time.Now}
		if code := Main(t.Context(), args, env); code != exitFailed || !strings.Contains(errs.String(), "no space left") {
			t.Errorf("%v: exit code %d, %q", args, code, errs.String())
		}
	}
}

// A flag means one thing: in every command that has it, it takes the same kind of
// value. The words a flag may take are a list of their own in each command.
func TestOneFlagOneMeaning(t *testing.T) {
	t.Parallel()
	differ := map[string]string{
		"fines": "a size in sieve, a share in blend", "metal": "what it is at take-in, how much of it later",
		"save": "a name in need, else yes or no", "host": "a plastic, or an address to listen at",
	}
	seen := map[string]map[string]string{}
	var walk func(c *cobra.Command)
	walk = func(c *cobra.Command) {
		c.LocalFlags().VisitAll(func(f *pflag.Flag) {
			kind := strings.TrimSuffix(f.Value.Type(), "Array") // once or several times
			if strings.Contains(kind, "|") {
				kind = "word"
			}
			if seen[f.Name] == nil {
				seen[f.Name] = map[string]string{}
			}
			seen[f.Name][kind] = c.CommandPath()
		})
		for _, sub := range c.Commands() {
			if sub.Name() != "reckon" { // one process by itself speaks in the words of that process
				walk(sub)
			}
		}
	}
	walk(rootCommand(&Env{Now: time.Now}))
	for name, kinds := range seen {
		if len(kinds) > 1 && differ[name] == "" {
			t.Errorf("--%s takes different things: %v", name, kinds)
		}
	}
}

// Words of several parts are typed with or without quotes.
func TestWordsAreJoinedEitherWay(t *testing.T) {
	t.Parallel()
	for _, typed := range []string{"desiccant box", "desiccant-box", "Desiccant-Box"} {
		var got string
		if err := (wordFlag{dryingWays, &got}).Set(typed); err != nil || got != string(shop.DesiccantBox) {
			t.Errorf("%q: %q, %v", typed, got, err)
		}
	}
}
