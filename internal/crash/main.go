// Command crash kills hopperful while it writes and counts what was lost.
//
// Several clients write to one shop, over HTTP and by the command line. At random
// moments the program is killed as by a power cut of its process (SIGKILL), the
// disk fills up, or turns read-only; copies of the file are torn off while it is
// written, and backups are made. A record counts as acknowledged when its client
// was told so. Afterwards each acknowledged record must be in the shop once:
// scripts/crash runs it and docs/reliability.md has the figures.
package main

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"sync"
	"time"

	"hopperful/internal/store/pgtest"
)

// tally is what is counted.
type tally struct {
	Rounds, Kills, Acknowledged, Lost, Doubled int
	Unheard                                    int // kept although its client was killed or cut off before it heard
	Copies, CopiesSaidBad, CopiesWrong         int
	Backups, BackupsWrong                      int
	Full, StillRefused                         int // writes that a full or read-only disk refused
	ServerKills                                int
	Demos, DemosHalf                           int
	Cuts                                       int // of power
}

// trial is one shop being tormented.
type trial struct {
	program, folder, shop string
	chance                *rand.Rand
	mu                    sync.Mutex      // of the two below, which clients write
	acknowledged          map[string]bool // by their notes
	next                  int
	tally
	server *pgtest.Server // where the shop lies; nil: in a file
	shops  int            // made on it
}

func main() {
	program := flag.String("program", "", "the hopperful to kill")
	folder := flag.String("folder", "", "an empty folder to work in")
	kills := flag.Int("kills", 200, "how often")
	onServer := flag.Bool("server", false, "keep the shop on a PostgreSQL server of its own, which is killed too")
	power := flag.Bool("power", false, "cut the power of the whole computer instead, as a trace of what was asked of the disk allows (needs strace)")
	seed := flag.Uint64("seed", uint64(time.Now().UnixNano()), "of chance")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	t := &trial{program: *program, folder: *folder, shop: filepath.Join(*folder, "shop.hopperful"),
		chance: rand.New(rand.NewPCG(*seed, *seed)), acknowledged: map[string]bool{}}
	fmt.Printf("seed %d\n", *seed)
	if *onServer {
		var err error
		if t.server, err = pgtest.Start(true); err != nil {
			fmt.Fprintln(os.Stderr, "crash:", err)
			os.Exit(1)
		}
		t.shop = t.server.Address("shop-0")
	}
	torment := t.run
	if *power {
		torment = t.powerCuts
	}
	err := torment(ctx, *kills)
	if t.server != nil {
		t.server.Stop()
	}
	t.print() // also of a run that was broken off
	if err != nil {
		fmt.Fprintln(os.Stderr, "crash:", err)
		os.Exit(1)
	}
	if t.Lost+t.Doubled+t.CopiesWrong+t.BackupsWrong+t.DemosHalf > 0 {
		os.Exit(1)
	}
}

// run kills so often, then makes the disk fail.
func (t *trial) run(ctx context.Context, kills int) error {
	for t.Kills < kills {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		t.Rounds++
		round := t.served
		switch {
		case t.Rounds%6 == 0:
			round = t.commands
		case t.Rounds%6 == 3 && t.server == nil:
			round = t.demo
		}
		if err := round(ctx); err != nil {
			return fmt.Errorf("round %d: %w", t.Rounds, err)
		}
		if err := t.check(ctx, t.Rounds%25 == 0); err != nil {
			return fmt.Errorf("round %d: %w", t.Rounds, err)
		}
		if t.Rounds%25 == 0 {
			fmt.Printf("%d kills, %d acknowledged, %d lost, %d doubled\n", t.Kills, t.Acknowledged, t.Lost, t.Doubled)
		}
	}
	if t.server != nil {
		return t.check(ctx, true)
	}
	return t.badDisks(ctx)
}

func (t *trial) print() {
	for _, row := range []struct {
		what string
		n    int
	}{
		{"rounds", t.Rounds}, {"kills", t.Kills}, {"acknowledged", t.Acknowledged}, {"lost", t.Lost}, {"doubled", t.Doubled},
		{"kept unheard", t.Unheard}, {"copies torn off", t.Copies}, {"of them told as damaged", t.CopiesSaidBad}, {"of them wrong in silence", t.CopiesWrong},
		{"backups under load", t.Backups}, {"of them not whole", t.BackupsWrong},
		{"writes a full disk refused", t.Full}, {"writes a read-only disk refused", t.StillRefused},
		{"power cuts", t.Cuts}, {"servers killed", t.ServerKills}, {"demos killed", t.Demos}, {"of them left half", t.DemosHalf},
	} {
		if row.n > 0 || row.what == "lost" || row.what == "doubled" { // what a trial had none of is not its matter
			fmt.Printf("| %s | %d |\n", row.what, row.n)
		}
	}
}

// note names the next record.
func (t *trial) note() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.next++
	return fmt.Sprintf("piece %06d", t.next)
}

// heard notes that a record was acknowledged.
func (t *trial) heard(note string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.acknowledged[note] = true
}

// atLeast is how much was acknowledged by now.
func (t *trial) atLeast() int {
	t.mu.Lock()
	defer t.mu.Unlock()
	return len(t.acknowledged)
}

// command prepares the program with its words.
func (t *trial) command(ctx context.Context, words ...string) *exec.Cmd {
	c := exec.CommandContext(ctx, t.program, words...)
	c.Env = append(os.Environ(), "HOPPERFUL_SHOP="+t.shop)
	return c
}

// moment waits for up to so long.
func (t *trial) moment(most time.Duration) {
	time.Sleep(time.Duration(t.chance.Int64N(int64(most))))
}
