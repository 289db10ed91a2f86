//go:build unix

package growth_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"
	"time"

	"hopperful/internal/growth"
	"hopperful/internal/store"
	"hopperful/plan"
	"hopperful/plan/next"
	"hopperful/process/breakage"
	"hopperful/process/mesh"
	"hopperful/process/sieve"
	"hopperful/process/toolpath"
	"hopperful/shop"
)

// What scripts/bench measures: each in seconds of processor time, of all cores together,
// which a busy machine changes little.

var end = time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)

// spent is the processor time of this process so far [s].
func spent() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano()).Seconds()
}

// cost reports the processor time of what is done.
func cost(b *testing.B, do func() error) {
	b.Helper()
	began, n := spent(), 0
	for b.Loop() {
		if err := do(); err != nil {
			b.Fatal(err)
		}
		n++
	}
	b.ReportMetric((spent()-began)/float64(n), "cpu-s/op")
}

// print writes G-code of about so many bytes: a square spiral in layers.
func print(size int) []byte {
	var b bytes.Buffer
	b.WriteString("M82\nG21\nG90\nG28\nG92 E0\nG1 F1800\n")
	e := 0.0
	for i := 0; b.Len() < size; i++ {
		if i%2000 == 0 {
			fmt.Fprintf(&b, "G1 Z%.3f F600\nG92 E0\nG1 F1800\n", 0.2+0.2*float64(i/2000))
			e = 0
		}
		x, y := 100+80*math.Cos(float64(i)*0.02), 100+80*math.Sin(float64(i)*0.02)
		e += 0.0533
		fmt.Fprintf(&b, "G1 X%.3f Y%.3f E%.5f\n", x, y, e)
	}
	return b.Bytes()
}

// ball is a binary STL of a closed ball of 2·n·m facets.
func ball(n, m int) []byte {
	at := func(i, j int) [3]float32 {
		u, v := math.Pi*float64(i)/float64(n), 2*math.Pi*float64(j%m)/float64(m)
		if i == 0 || i == n {
			v = 0
		}
		return [3]float32{float32(50 * math.Sin(u) * math.Cos(v)), float32(50 * math.Sin(u) * math.Sin(v)), float32(50 * math.Cos(u))}
	}
	var facets [][3][3]float32
	for i := range n {
		for j := range m {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			if i < n-1 {
				facets = append(facets, [3][3]float32{a, b, c})
			}
			if i > 0 {
				facets = append(facets, [3][3]float32{a, c, d})
			}
		}
	}
	out := binary.LittleEndian.AppendUint32(make([]byte, 80), uint32(len(facets)))
	for _, f := range facets {
		out = append(out, make([]byte, 12)...)
		for _, p := range f {
			for _, x := range p {
				out = binary.LittleEndian.AppendUint32(out, math.Float32bits(x))
			}
		}
		out = append(out, 0, 0)
	}
	return out
}

// benchFile is a file of a benchmark in BENCH_FOLDER, where peers read it too; made when it is missing.
func benchFile(b *testing.B, name string, content func() []byte) string {
	b.Helper()
	folder := os.Getenv("BENCH_FOLDER")
	if folder == "" {
		folder = b.TempDir()
	}
	path := filepath.Join(folder, name)
	if _, err := os.Stat(path); err == nil {
		return path
	}
	if err := os.WriteFile(path, content(), 0o644); err != nil {
		b.Fatal(err)
	}
	return path
}

// reading opens a file anew for each round, as its peers do: what has just been read whole into
// memory is slow to touch in a virtual machine, and nobody reads a print that way.
func reading(b *testing.B, path string, read func(io.Reader) error) {
	b.Helper()
	cost(b, func() error {
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		return read(f)
	})
}

func BenchmarkToolpath(b *testing.B) {
	path := benchFile(b, "print.gcode", func() []byte { return print(100 << 20) })
	reading(b, path, func(r io.Reader) error {
		_, err := toolpath.Read(r, toolpath.Options{})
		return err
	})
}

func BenchmarkMesh(b *testing.B) {
	path := benchFile(b, "ball.stl", func() []byte { return ball(500, 400) })
	reading(b, path, func(r io.Reader) error {
		_, err := mesh.ReadSTL(r, mesh.Options{})
		return err
	})
}

// BenchmarkCharge is the charge that scripts/peers/charge.py grinds too.
func BenchmarkCharge(b *testing.B) {
	g, err := breakage.NewGrid(0.30)
	if err != nil {
		b.Fatal(err)
	}
	k := breakage.Kernel{Rate: 2e-4, SizeExponent: 1.1, RotorSize: 0.08, RotorExponent: 3, Phi: 0.35, Gamma: 0.9, Beta: 3.5}
	screen, power := breakage.Screen{Hole: 0.002, OpenShare: 0.2, Rate: 0.25}, breakage.Power{Net: 250, MinHeld: 0.02}
	m, err := breakage.NewMill(g, k, screen, power, 1e-3)
	if err != nil {
		b.Fatal(err)
	}
	passed := 0.0
	cost(b, func() error {
		c := breakage.NewCharge(g)
		if err := breakage.AddFeed(g, c.Held, 0.1, 0.06, 0.03, 0.002); err != nil {
			return err
		}
		if err := m.Reset(k, screen, power); err != nil {
			return err
		}
		err := m.Run(c, 180, &breakage.Course{})
		passed = 0
		for _, p := range c.Passed {
			passed += p
		}
		return err
	})
	b.ReportMetric(passed, "kg-passed")
}

func BenchmarkSieveFit(b *testing.B) {
	var s []sieve.Sieve
	var on []sieve.Row
	for _, d := range []struct {
		name string
		mass float64
	}{{"4 mm", 0}, {"2.8 mm", 0.001}, {"2 mm", 0.02}, {"1.4 mm", 0.04}, {"1 mm", 0.03}, {"500 µm", 0.02}, {"250 µm", 0.01}} {
		one, err := sieve.ByDesignation(d.name)
		if err != nil {
			b.Fatal(err)
		}
		s, on = append(s, one), append(on, sieve.Row{Mass: d.mass})
	}
	a, err := sieve.Weigh(sieve.Stack{Sieves: s, Portions: []sieve.Portion{{Charge: 0.125, Rows: append(on, sieve.Row{Mass: 0.004})}}})
	if err != nil {
		b.Fatal(err)
	}
	cost(b, func() error {
		_, err := sieve.FitAll(a.Points(), sieve.Weighting{})
		return err
	})
}

// appending writes a record to a new shop, durable when it returns.
func appending(b *testing.B) func() error {
	s, err := store.Create(b.Context(), filepath.Join(b.TempDir(), "shop"), store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { s.Close() })
	return func() error {
		_, err := s.Append(b.Context(), end, shop.Record{Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Colour: "grey", Mass: 1}})
		return err
	}
}

// BenchmarkAppend writes one record after the other, each durable before the next.
func BenchmarkAppend(b *testing.B) { cost(b, appending(b)) }

// BenchmarkAppendTogether has sixteen write at the same time.
func BenchmarkAppendTogether(b *testing.B) {
	const writers = 16
	one := appending(b)
	began := spent()
	b.SetParallelism((writers + runtime.GOMAXPROCS(0) - 1) / runtime.GOMAXPROCS(0))
	b.RunParallel(func(pb *testing.PB) {
		for pb.Next() {
			if err := one(); err != nil {
				b.Error(err)
			}
		}
	})
	b.ReportMetric((spent()-began)/float64(b.N), "cpu-s/op")
}

// grown is a shop of so many records.
func grown(b *testing.B, n int) *shop.State {
	b.Helper()
	s, err := shop.Fold(history(b, n))
	if err != nil {
		b.Fatal(err)
	}
	return s
}

func history(b *testing.B, n int) []shop.Record {
	b.Helper()
	var all []shop.Record
	if err := growth.Records(n, end, func(piece []shop.Record) error { all = append(all, piece...); return nil }); err != nil {
		b.Fatal(err)
	}
	return all
}

// request is what a plan is asked for.
func request(draws int) plan.Request {
	mass := 0.6
	return plan.Request{Need: shop.Need{Name: "bracket", From: "typed", Mass: &mass, Polymer: "PLA"}, Now: end, Draws: draws}
}

// BenchmarkPlan is a plan from books alone, with so many draws.
func BenchmarkPlan(b *testing.B) {
	s := grown(b, 6)
	for _, draws := range []int{100, 200, 400, 1000} {
		b.Run(fmt.Sprint(draws), func(b *testing.B) {
			cost(b, func() error { _, err := plan.Grind(s, request(draws)); return err })
		})
	}
}

// BenchmarkLearned is a plan with 400 draws on a mill of so many runs, of which the
// latest has just been weighed anew, so that nothing was learned from it yet. There is
// scrap, and more granulate is asked for: a plan that grinds nothing searches nothing.
func BenchmarkLearned(b *testing.B) {
	for _, runs := range []int{40, 200, 1000, 10_000} {
		b.Run(fmt.Sprint(runs), func(b *testing.B) { learned(b, runs, false) })
	}
}

// BenchmarkMoved is the same with what the latest charge changed, as people are told it:
// the plan is made again without that charge, and without one of its readings.
func BenchmarkMoved(b *testing.B) {
	for _, runs := range []int{40, 1000} {
		b.Run(fmt.Sprint(runs), func(b *testing.B) { learned(b, runs, true) })
	}
}

func learned(b *testing.B, runs int, moved bool) {
	b.Helper()
	s, err := grown(b, 6+runs*26/24).With(shop.Record{At: end, NotedAt: end, Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Colour: "grey", Mass: 2}})
	if err != nil {
		b.Fatal(err)
	}
	last, n := shop.Record{}, 0
	for _, r := range s.Records.LatestOf(&shop.Ground{}) {
		last = r
		break
	}
	more := 0.6
	req := request(400)
	req.Make, req.Moved = &more, moved
	b.ReportAllocs()
	cost(b, func() error {
		n++
		body := *last.Body.(*shop.Ground)
		product := *body.Product - 1e-6*float64(n)
		body.Product = &product
		next, err := s.With(shop.Record{At: last.At, NotedAt: last.At, Corrects: last.ID, Body: &body})
		if err != nil {
			return err
		}
		g, err := plan.Grind(next, req)
		if err == nil && g.Setting.Charge.Value <= 0 {
			err = errors.New("nothing to grind, nothing to search")
		}
		return err
	})
}

// BenchmarkGrow is how cost goes with size.
func BenchmarkGrow(b *testing.B) {
	for _, n := range []int{1000, 4000, 16_000, 64_000} {
		all := history(b, n)
		b.Run(fmt.Sprintf("records/%d", n), func(b *testing.B) {
			cost(b, func() error { _, err := shop.Fold(all); return err })
		})
	}
	for _, n := range []int{50, 200, 800, 3200} {
		s := grown(b, 5)
		for i := range n {
			next, err := s.With(shop.Record{At: end, NotedAt: end, Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Colour: "grey", Mass: 1 + float64(i%7)/10}})
			if err != nil {
				b.Fatal(err)
			}
			s = next
		}
		b.Run(fmt.Sprintf("lots/%d", n), func(b *testing.B) {
			cost(b, func() error { _ = next.Of(s); return nil })
		})
	}
	for _, n := range []int{1 << 20, 4 << 20, 16 << 20, 64 << 20} {
		text := print(n)
		b.Run(fmt.Sprintf("bytes/%d", n), func(b *testing.B) {
			cost(b, func() error { _, err := toolpath.Read(bytes.NewReader(text), toolpath.Options{}); return err })
		})
	}
}
