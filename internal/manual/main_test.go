package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/spf13/cobra"

	"hopperful/internal/cli"
)

// Every command a person can see has its page, and each page says what the command
// says of itself.
func TestEveryCommandHasItsPage(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if err := run([]string{"-version", "v1.2.3", "-day", "2026-11-30", folder}); err != nil {
		t.Fatal(err)
	}
	var visit func(c *cobra.Command)
	visit = func(c *cobra.Command) {
		if !c.IsAvailableCommand() && c.HasParent() {
			return
		}
		page := filepath.Join(folder, "man1", strings.ReplaceAll(c.CommandPath(), " ", "-")+".1")
		text, err := os.ReadFile(page)
		if err != nil {
			t.Errorf("%s: %v", c.CommandPath(), err)
			return
		}
		if !strings.Contains(string(text), "Nov 2026") || !strings.Contains(string(text), "v1.2.3") {
			t.Errorf("%s does not say of when and of which version it is", page)
		}
		if first, _, _ := strings.Cut(c.Short, ","); !strings.Contains(strings.ReplaceAll(string(text), `\`, ""), first) {
			t.Errorf("%s does not say %q", page, first)
		}
		for _, below := range c.Commands() {
			visit(below)
		}
	}
	visit(cli.Commands())
}

// The shells that are here take their completion without a complaint.
func TestCompletionsAreTaken(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	if err := run([]string{"-version", "v1.2.3", "-day", "2026-11-30", folder}); err != nil {
		t.Fatal(err)
	}
	for shell, name := range map[string]string{"bash": "hopperful.bash", "zsh": "_hopperful", "fish": "hopperful.fish"} {
		file := filepath.Join(folder, "completions", name)
		if text, err := os.ReadFile(file); err != nil || !strings.Contains(string(text), "__complete") {
			t.Errorf("%s: %v, or nothing in it", name, err)
		}
		path, err := exec.LookPath(shell)
		if err != nil {
			continue
		}
		if out, err := exec.Command(path, "-n", file).CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", shell, err, out)
		}
	}
}

func TestAskedWrongly(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{nil, {"x"}, {"-version", "v1", "-day", "today", "x"}, {"-version", "v1", "-day", "2026-11-30"}} {
		if run(args) == nil {
			t.Errorf("%q was taken", args)
		}
	}
}
