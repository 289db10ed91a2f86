package cli

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"hopperful/internal/store"
	"hopperful/internal/web"
)

// servedShop serves a fresh copy of the invented shop until the test is over.
func servedShop(t *testing.T) (folder, address string) {
	t.Helper()
	folder = t.TempDir()
	if err := settle(folder); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	out := &watched{seen: func() {}}
	var errs strings.Builder
	done := make(chan int, 1)
	path := filepath.Join(folder, "lantern.hopperful")
	go func() {
		done <- Main(ctx, []string{"serve", "--listen", "127.0.0.1:0"}, Env{In: strings.NewReader(""), Out: out, Err: &errs, Now: time.Now, Build: "(test)",
			Getenv: func(name string) string { return map[string]string{shopVariable: path, "HOME": folder}[name] }})
	}()
	t.Cleanup(func() {
		stop()
		if code := <-done; code != exitDone {
			t.Errorf("serve ended with %d: %s", code, errs.String())
		}
	})
	at := regexp.MustCompile(`http://127\.0\.0\.1:\d+`)
	for last := time.Now().Add(time.Minute); time.Now().Before(last); time.Sleep(20 * time.Millisecond) {
		if address = at.FindString(out.String()); address != "" {
			if _, err := web.Reach(ctx, path, ""); err == nil {
				return folder, address
			}
		}
	}
	t.Fatalf("it is not served: %s %s", out.String(), errs.String())
	return "", ""
}

// TestEveryWritingCommandWritesThroughTheServer: each command that writes a record
// does so while the pages are served, and the server knows of it at once.
func TestEveryWritingCommandWritesThroughTheServer(t *testing.T) {
	t.Parallel()
	folder, _ := servedShop(t)
	path := filepath.Join(folder, "lantern.hopperful")
	if err := os.WriteFile(filepath.Join(folder, "notes.csv"), []byte("date,what,lot,mass (g)\n2026-05-03,taken in,S90,500\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	records := func() int {
		s, err := store.Open(t.Context(), path, store.Options{ReadOnly: true})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
		return s.State().History.Len()
	}
	known := map[string]bool{}
	for _, line := range []string{
		"take-in 300g --polymer PLA", "record ground --mill Rattle --from S1 --charge 30g --run 60s --product 25g", "record weighed S1 1kg",
		"record sorted --from S1 --into '10g,name=clear'", "record magnet R1 --metal 1mg", "record dedusted R1 1g --through 0.5mm",
		"record dried R3 --way oven --temperature 50°C --time 1h --energy 300Wh", "record jar R1 --jar 200ml --poured 90g", "record coloured R1 --photo #404040",
		"record blended --from R1=5g --from R2=5g", "record flow-test R1 --load 2.16kg --cut-time 10s --cut 0.3g --temperature 190°C", "record printed --from R1 --print clip --mass 5g --energy 20Wh",
		"record discarded R1 1g --why spilt", "record serviced --mill Rattle --part seal --what replaced", "record happened stalled --mill Rattle",
		"record pictured R1 heap.jpg", "record void 3 --why again", "record sieved R1 --charge 50g --sieve 2mm=20g --pan 30g",
		"machines set mill --name Rattle --jar 400ml", "machines set scale --name pocket --resolution 0.1g", "machines set printer --name Spout --nozzle 1.2mm",
		"machines set dryer --name Cupboard --way oven", "machines set person --name Kim", "machines set shop --handling 90s", "materials set PLA density 1.25g/cm3",
		"need 90g --polymer PLA --save peg", "need --done peg", "blend 20g --polymer PLA --save", "identify --lot S7 --limp70 yes --snaps yes --save",
		"campaign begin 900g --polymer PETG --mill Grumble", "campaign sheet --skip", "campaign mark started", "campaign mark stopped", "campaign record --product 20g",
		"campaign pause", "campaign resume", "campaign end", "import notes.csv --write",
	} {
		words := split(line)
		before := records()
		_, errs, code := answerOf(folder, words)
		switch {
		case code != exitDone:
			t.Errorf("%s: exit code %d: %s", line, code, errs)
		case records() <= before:
			t.Errorf("%s: nothing is on record", line)
		}
		known[strings.Join(words[:min(2, len(words))], " ")] = true
	}
	for name := range writingRecords(t) {
		if !known[name] {
			t.Errorf("hopperful %s writes too, and is not tried", name)
		}
	}
}

// writingRecords are the commands below record, which all write.
func writingRecords(t *testing.T) map[string]bool {
	t.Helper()
	all := map[string]bool{}
	c, _, err := rootCommand(&Env{}).Find([]string{"record"})
	if err != nil {
		t.Fatal(err)
	}
	for _, sub := range c.Commands() {
		if name := "record " + sub.Name(); name != "record confirmed" { // asks for a question that is open
			all[name] = true
		}
	}
	return all
}

// TestCommandsAtOnceWaitForEachOther: many commands at once, with the pages served and
// without, are all written, each once and none refused.
func TestCommandsAtOnceWaitForEachOther(t *testing.T) {
	t.Parallel()
	for name, serve := range map[string]bool{"served": true, "not served": false} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			folder := t.TempDir()
			if serve {
				folder, _ = servedShop(t)
			} else if err := settle(folder); err != nil {
				t.Fatal(err)
			}
			const n = 6
			var wg sync.WaitGroup
			for i := range n {
				wg.Go(func() {
					if _, errs, code := answerOf(folder, []string{"take-in", "100g", "--name", "bin " + string(rune('a'+i))}); code != exitDone {
						t.Errorf("command %d: exit code %d: %s", i, code, errs)
					}
				})
			}
			wg.Wait()
			out, _, _ := answerOf(folder, []string{"stock", "--json"})
			for i := range n {
				if got := strings.Count(out, `"bin `+string(rune('a'+i))+`"`); got != 1 {
					t.Errorf("bin %c is in stock %d times", 'a'+i, got)
				}
			}
		})
	}
}

// TestTheAPIPageIsTrue: its curl lines are run against the invented shop; each gives
// JSON and no refusal.
func TestTheAPIPageIsTrue(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("curl"); err != nil {
		t.Skip("no curl is installed")
	}
	folder, address := servedShop(t)
	token, errs, code := answerOf(folder, []string{"token", "create", "page", "--scope", "record"})
	if code != exitDone {
		t.Fatal(errs)
	}
	page, err := os.ReadFile("../../docs/use/api.md")
	if err != nil {
		t.Fatal(err)
	}
	lines := regexp.MustCompile(`(?m)^curl .*$`).FindAllString(string(page), -1)
	if len(lines) < 8 {
		t.Fatalf("only %d lines are there", len(lines))
	}
	for _, line := range lines {
		c := exec.CommandContext(t.Context(), "sh", "-c", strings.ReplaceAll(line, "http://127.0.0.1:8614", address))
		c.Env = append(os.Environ(), "TOKEN="+strings.TrimSpace(token), "no_proxy=*")
		out, err := c.Output()
		var answer map[string]any
		if err == nil {
			err = json.Unmarshal(out, &answer)
		}
		if err != nil || answer["error"] != nil {
			t.Errorf("%s: %v\n%.300s", line, err, out)
		}
	}
}
