package recipe

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// linear is a problem of n lots without a colour; of one that may use a few lots
// only, every lot comes with a yes or no.
func linear(n int, strict float64, few bool) Problem {
	p := plausible(rand.New(rand.NewPCG(3, uint64(n))), n, strict)
	if !few {
		p.Most = 0
		eachLot(func(l *Lot) { l.Least = 0 })(&p)
	}
	return p
}

// writeLP writes a problem as other solvers of linear programs read it.
func writeLP(to io.Writer, p Problem) error {
	w := bufio.NewWriter(to)
	row := func(of func(i int) float64, end string) {
		for i := range p.Lots {
			if v := of(i); v != 0 {
				fmt.Fprintf(w, "%+.17g x%d\n", v, i)
			}
		}
		fmt.Fprintln(w, end)
	}
	fmt.Fprintln(w, "minimize")
	row(func(i int) float64 { return p.Lots[i].Cost }, "subject to")
	row(func(int) float64 { return 1 }, fmt.Sprintf("= %.17g", p.Mass))
	for _, l := range p.Limits {
		if !math.IsInf(l.Lo, 0) {
			row(func(i int) float64 { return l.Of[i] - l.Lo }, ">= 0")
		}
		if !math.IsInf(l.Hi, 0) {
			row(func(i int) float64 { return l.Of[i] - l.Hi }, "<= 0")
		}
	}
	if p.Most > 0 {
		for i, l := range p.Lots {
			fmt.Fprintf(w, "x%d - %.17g y%d <= 0\nx%d - %.17g y%d >= 0\n", i, l.Stock, i, i, l.Least, i)
		}
		for i := range p.Lots {
			fmt.Fprintf(w, "+ y%d\n", i)
		}
		fmt.Fprintf(w, "<= %d\n", p.Most)
	}
	fmt.Fprintln(w, "bounds")
	for i, l := range p.Lots {
		fmt.Fprintf(w, "0 <= x%d <= %.17g\n", i, l.Stock)
	}
	if p.Most > 0 {
		fmt.Fprintln(w, "binary")
		for i := range p.Lots {
			fmt.Fprintf(w, "y%d\n", i)
		}
	}
	fmt.Fprintln(w, "end")
	return w.Flush()
}

// lpFile is a problem in a file that goes with the test.
func lpFile(t testing.TB, p Problem) string {
	t.Helper()
	if _, err := exec.LookPath("glpsol"); err != nil {
		t.Skip("glpsol is not installed (on Debian: apt-get install glpk-utils)")
	}
	f, err := os.Create(filepath.Join(t.TempDir(), "p.lp"))
	if err != nil {
		t.Fatal(err)
	}
	if err := writeLP(f, p); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	return f.Name()
}

// glpsol solves a file and returns the optimum it found, +Inf where it proved
// that there is none.
func glpsol(t testing.TB, file string) float64 {
	t.Helper()
	out := file + ".out"
	if text, err := exec.CommandContext(t.Context(), "glpsol", "--lp", file, "--mipgap", "1e-9", "--tmlim", "60", "-w", out).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	text, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(text)) {
		f := strings.Fields(line)
		if len(f) < 6 || f[0] != "s" {
			continue
		}
		switch f[1] + f[4] {
		case "basf", "mipo":
		case "basn", "basu", "mipn":
			return math.Inf(1)
		default:
			t.Fatalf("it ended so: %s", line)
		}
		v, err := strconv.ParseFloat(f[len(f)-1], 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	t.Fatalf("no solution in %s", text)
	return 0
}

// Second library: GLPK's glpsol (Makhorin2020), as it is installed where this
// runs, on the same files.
func TestSameOptimumAsGlpsol(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		n      int
		strict float64
		few    bool
	}{{50, 0.05, false}, {50, 0.5, false}, {1000, 0.5, false}, {10000, 0.5, false}, {30, 0.5, true}, {60, 0, true}, {60, 0.05, true}, {100, 0.1, true}} {
		t.Run(fmt.Sprintf("%d lots, strict %g, few %t", c.n, c.strict, c.few), func(t *testing.T) {
			t.Parallel()
			p := linear(c.n, c.strict, c.few)
			want := glpsol(t, lpFile(t, p))
			a, err := Solve(t.Context(), p, Options{Recipes: 1})
			if err != nil {
				t.Fatal(err)
			}
			got := math.Inf(1)
			if len(a.Recipes) > 0 {
				got = a.Recipes[0].Cost
			}
			if !a.Proved || got != want && !(math.Abs(got-want) <= 1e-6*math.Abs(want)) {
				t.Errorf("glpsol %.10g, got %.10g, proved %t", want, got, a.Proved)
			}
			t.Logf("%.8g", got)
		})
	}
}

// The same instances against the clock: ours, and glpsol with starting it and
// reading the file.
func BenchmarkLinear(b *testing.B) {
	for _, c := range []struct {
		n      int
		strict float64
		few    bool
	}{{1000, 0.5, false}, {10000, 0.5, false}, {100, 0.1, true}} {
		p := linear(c.n, c.strict, c.few)
		b.Run(fmt.Sprintf("ours/%d/few=%t", c.n, c.few), func(b *testing.B) { benchSolve(b, p, Options{Recipes: 1}) })
		b.Run(fmt.Sprintf("glpsol/%d/few=%t", c.n, c.few), func(b *testing.B) {
			file := lpFile(b, p)
			for b.Loop() {
				b.ReportMetric(glpsol(b, file), "cost")
			}
		})
	}
}
