package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"hopperful/answer"

	"github.com/spf13/cobra"
)

// The examples in every command's help are run, each command's in a fresh copy
// of the invented shop.
func TestUsageExamplesRun(t *testing.T) {
	t.Parallel()
	env := Env{}
	walk(rootCommand(&env), func(c *cobra.Command) {
		if c.Example == "" || !c.Runnable() {
			if c.Runnable() && !generated(c) {
				t.Errorf("%s has no example", c.CommandPath())
			}
			return
		}
		var lines []string
		for _, l := range strings.Split(c.Example, "\n") {
			lines = append(lines, strings.TrimSpace(l))
		}
		t.Run(c.CommandPath(), func(t *testing.T) {
			t.Parallel()
			runLines(t, lines)
		})
	})
}

// generated says whether cobra made the command, or it only shows help.
func generated(c *cobra.Command) bool {
	for x := c; x != nil; x = x.Parent() {
		if x.Name() == "completion" || x.Name() == "help" {
			return true
		}
	}
	return !c.HasParent()
}

func walk(c *cobra.Command, do func(*cobra.Command)) {
	do(c)
	for _, sub := range c.Commands() {
		walk(sub, do)
	}
}

// The commands on the documentation's pages are run too: the lines of console
// blocks that start with "$ ", one page in one shop.
func TestDocumentationRuns(t *testing.T) {
	t.Parallel()
	pages, err := filepath.Glob("../../docs/use/*.md")
	if err != nil || len(pages) < 4 {
		t.Fatalf("%d pages of use, %v", len(pages), err)
	}
	for _, page := range append(pages, "../../README.md", "../../docs/cli-json.md", "../../docs/README.md") {
		t.Run(filepath.Base(page), func(t *testing.T) {
			t.Parallel()
			text, err := os.ReadFile(page)
			if err != nil {
				t.Fatal(err)
			}
			var lines []string
			for _, l := range strings.Split(string(text), "\n") {
				if command, ok := strings.CutPrefix(l, "$ "); ok {
					lines = append(lines, command)
				}
				if command, ok := strings.CutPrefix(l, "go run ./cmd/hopperful "); ok {
					command, _, _ = strings.Cut(command, "#")
					lines = append(lines, "hopperful "+strings.TrimSpace(command))
				}
			}
			runLines(t, lines)
		})
	}
}

// runLines runs commands one after the other in one folder with the invented
// shop; each must succeed.
func runLines(t *testing.T, lines []string) {
	t.Helper()
	folder := t.TempDir()
	if err := settle(folder); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"passphrase.txt": "three loud mills\n",
		"curve.csv":      curveTable(),
		"bearings.csv":   "life,fate,count\n230,failed,1\n334,failed,1\n990,failed,1\n650,running,110\n1050,running,92\n",
		"notebook.csv":   "mill,Rattle\ndate,what,lot,from,mass (g),charge (g),run (s),product (g)\n2025-03-03,taken in,attic bin,,900,,,\n,ground,,attic bin,,90,70,80\n",
		"stack.csv":      "opening (mm),retained (g)\n2,0\n1.4,5.4\n1,14.1\n0.5,17.0\npan,8.2\ncharge,45\n",
	} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	vars := map[string]string{}
	for _, l := range lines {
		words := split(l)
		if len(words) == 0 || words[0] != "hopperful" {
			t.Fatalf("%q is no hopperful command", l)
		}
		out := runExample(t, folder, vars, words[1:])
		if words[1] == "account" && words[2] == "add" && vars[tokenVariable] == "" { // as its reader would
			vars[tokenVariable] = strings.TrimSpace(out)
		}
	}
}

// runExample runs one command as if started in the folder, with few draws where it draws and none
// are asked for: whether it runs is what examples are held to. What serves takes a free port, for
// a person may have the pages open on the usual one.
func runExample(t *testing.T, folder string, vars map[string]string, words []string) string {
	t.Helper()
	c, _, err := rootCommand(&Env{}).Find(words)
	if err != nil {
		t.Fatalf("hopperful %s: %v", strings.Join(words, " "), err)
	}
	if c.Flags().Lookup("draws") != nil && !slices.Contains(words, "--draws") {
		words = append(slices.Clone(words), "--draws", "20")
	}
	if f := c.Flags().Lookup("listen"); f != nil && f.DefValue == defaultListen && !slices.Contains(words, "--listen") {
		words = append(slices.Clone(words), "--listen", "127.0.0.1:0")
	}
	out, errs, code := answerWith(folder, vars, words)
	if code != exitDone {
		t.Errorf("hopperful %s\nexit code %d\n%s", strings.Join(words, " "), code, errs)
	}
	return out
}

// answerOf runs a command in this process on the invented shop in the folder.
// Commands that serve are stopped as soon as they have said where.
func answerOf(folder string, words []string) (out, errs string, code int) {
	return answerWith(folder, nil, words)
}

// answerWith runs a command like answerOf with more variables set.
func answerWith(folder string, vars map[string]string, words []string) (out, errs string, code int) {
	return answerTold(folder, vars, words, nil)
}

// answerTold is answerWith for who wants to hear the answer before it is worded.
func answerTold(folder string, vars map[string]string, words []string, told func(answer.Document)) (out, errs string, code int) {
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	defer cancel()
	said := &watched{seen: cancel}
	var noise bytes.Buffer
	env := Env{In: strings.NewReader(""), Out: said, Err: &noise, Now: time.Now, Build: "(test)", told: told, Getenv: func(name string) string {
		if v, ok := vars[name]; ok {
			return v
		}
		return map[string]string{shopVariable: filepath.Join(folder, "lantern.hopperful"), "HOME": folder}[name]
	}}
	code = Main(ctx, located(folder, words), env)
	return said.String(), noise.String(), code
}

// located turns the names of files into paths in the folder. A shop's file
// that is not there yet is to be made in a folder of its own.
func located(folder string, words []string) []string {
	made := filepath.Join(folder, "made")
	out := slices.Clone(words)
	for i, w := range words {
		for _, path := range []string{filepath.Join(folder, w), filepath.Join(made, w)} {
			if facts, err := os.Stat(path); err == nil && facts.Mode().IsRegular() {
				out[i] = path
			}
		}
		if name, values, ok := strings.Cut(w, "="); ok {
			parts := strings.Split(values, ",")
			for k, v := range parts {
				_, err := os.Stat(filepath.Join(folder, v))
				if v != "" && err == nil || name == "--sheet" {
					parts[k] = filepath.Join(folder, v)
				}
			}
			out[i] = name + "=" + strings.Join(parts, ",")
		}
		if ext := filepath.Ext(w); out[i] == w && i > 0 && slices.Contains([]string{".xlsx", ".pdf", ".jsonl", ".jpg"}, ext) { // to be written there
			out[i] = filepath.Join(folder, w)
		}
		if out[i] == w && strings.HasSuffix(w, ".hopperful") && os.MkdirAll(made, 0o755) == nil {
			out[i] = filepath.Join(made, w)
		}
	}
	return out
}

// address is how a serving command says where it is.
var address = regexp.MustCompile(`https?://\S+:\d+/`)

// watched keeps what is written and reports once an address was.
type watched struct {
	mu   sync.Mutex
	text bytes.Buffer
	seen func()
}

func (w *watched) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.text.Write(p)
	if address.Match(p) {
		w.seen()
	}
	return len(p), nil
}

func (w *watched) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.text.String()
}

// split parts a line into words as a shell does, with quotes of both kinds.
func split(line string) []string {
	var words []string
	var word strings.Builder
	quote, open := rune(0), false
	for _, r := range line {
		switch {
		case quote != 0 && r == quote:
			quote = 0
		case quote != 0:
			word.WriteRune(r)
		case r == '"' || r == '\'':
			quote, open = r, true
		case r == ' ':
			if open || word.Len() > 0 {
				words = append(words, word.String())
			}
			word.Reset()
			open = false
		default:
			word.WriteRune(r)
		}
	}
	if open || word.Len() > 0 {
		words = append(words, word.String())
	}
	return words
}

// curveTable is the reflectance of an orange plastic, every 20 nm.
func curveTable() string {
	text := "wavelength (nm),reflectance\n"
	for nm := 400; nm <= 700; nm += 20 {
		light := 0.06
		if nm > 560 {
			light = 0.55
		}
		text += fmt.Sprintf("%d,%g\n", nm, light)
	}
	return text
}
