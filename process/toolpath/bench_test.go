package toolpath

import (
	"bufio"
	"bytes"
	"crypto/md5"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"testing"
)

// writePrint writes G-code such as printing programs write: short extruding
// moves, a travel and a speed now and then, layers, comments.
func writePrint(out io.Writer, size int64) error {
	rng := rand.New(rand.NewPCG(1, 2))
	w := bufio.NewWriterSize(out, 1<<20)
	n, _ := w.WriteString("; print\nM82\nG21\nG90\nG28\nM109 S210\nG92 E0\nG1 F1800\n")
	x, y, e := 100.0, 100.0, 0.0
	for i, written := 0, int64(n); written < size; i++ {
		u := min(190, max(10, x+rng.Float64()*4-2))
		v := min(190, max(10, y+rng.Float64()*4-2))
		way := math.Hypot(u-x, v-y)
		x, y = u, v
		n := 0
		switch {
		case i%2000 == 0:
			n, _ = fmt.Fprintf(w, ";LAYER\nG1 Z%.3f F600\nG92 E0\nG1 F1800\n", 0.2+float64(i/2000)*0.2)
			e = 0
		case i%20 == 0:
			n, _ = fmt.Fprintf(w, "G0 X%.3f Y%.3f F9000\nG1 F1800\n", x, y)
		default:
			e += way * 0.0333 // a line of 0.4 mm by 0.2 mm
			n, _ = fmt.Fprintf(w, "G1 X%.3f Y%.3f E%.5f\n", x, y, e)
		}
		written += int64(n)
	}
	return w.Flush()
}

func printLike(b *testing.B, size int64) []byte {
	b.Helper()
	var text bytes.Buffer
	if err := writePrint(&text, size); err != nil {
		b.Fatal(err)
	}
	return text.Bytes()
}

// BenchmarkRead reads 32 MB. BenchmarkSum beside it is the yardstick: the MD5
// sum of the same bytes.
func BenchmarkRead(b *testing.B) {
	text := printLike(b, 32<<20)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(bytes.NewReader(text), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSum is the MD5 sum of what BenchmarkRead reads.
func BenchmarkSum(b *testing.B) {
	text := printLike(b, 32<<20)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		md5.Sum(text)
	}
}

// BenchmarkShort reads a file of a few kilobytes: what a call costs at least.
func BenchmarkShort(b *testing.B) {
	text := printLike(b, 4<<10)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(bytes.NewReader(text), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLexer reads lines into blocks and drops them.
func BenchmarkLexer(b *testing.B) {
	text := printLike(b, 32<<20)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		s := lexing(text)
		for one := (&batch{}); s.err == nil; {
			s.fill(one)
		}
	}
}

// lexing is a source of text.
func lexing(text []byte) *source {
	return &source{chunks: newChunks(bytes.NewReader(text), Options{})}
}

// BenchmarkMachine carries blocks out and drops the legs; BenchmarkClock times
// these.
func BenchmarkMachine(b *testing.B) {
	text := printLike(b, 512<<10)
	b.SetBytes(int64(len(text)))
	all := blockBatches(text)
	o, _ := Options{}.filled()
	for b.Loop() {
		m, legs := newMachine(o), &legBatch{}
		for _, k := range all {
			m.do(k, legs)
		}
	}
}

func BenchmarkClock(b *testing.B) {
	text := printLike(b, 512<<10)
	b.SetBytes(int64(len(text)))
	o, _ := Options{}.filled()
	m := newMachine(o)
	var all []*legBatch
	for _, k := range blockBatches(text) {
		all = append(all, &legBatch{})
		m.do(k, all[len(all)-1])
	}
	for b.Loop() {
		c := newClock(o)
		for _, k := range all {
			c.do(k)
		}
	}
}

func blockBatches(text []byte) []*batch {
	var all []*batch
	for s := lexing(text); s.err == nil; {
		all = append(all, &batch{})
		s.fill(all[len(all)-1])
	}
	return all
}

// BenchmarkFile reads the file that TOOLPATH_BENCH_FILE names and writes it first,
// TOOLPATH_BENCH_MB long, when it is not there. scripts/bench-toolpath uses it.
func BenchmarkFile(b *testing.B) {
	name := os.Getenv("TOOLPATH_BENCH_FILE")
	if name == "" {
		b.Skip("TOOLPATH_BENCH_FILE names no file")
	}
	if _, err := os.Stat(name); err != nil {
		var mb int64
		if _, err := fmt.Sscan(os.Getenv("TOOLPATH_BENCH_MB"), &mb); err != nil {
			b.Fatalf("TOOLPATH_BENCH_MB is not a number of megabytes: %v", err)
		}
		out, err := os.Create(name)
		if err != nil {
			b.Fatal(err)
		}
		if err := writePrint(out, mb*1e6); err != nil {
			b.Fatal(err)
		}
		if err := out.Close(); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		in, err := os.Open(name)
		if err != nil {
			b.Fatal(err)
		}
		s, err := Read(in, Options{})
		in.Close()
		if err != nil {
			b.Fatal(err)
		}
		b.SetBytes(s.Count.Bytes)
	}
	if status, err := os.ReadFile("/proc/self/status"); err == nil {
		_, rest, _ := bytes.Cut(status, []byte("VmHWM:"))
		var kb float64
		if _, err := fmt.Sscan(string(rest), &kb); err == nil {
			b.ReportMetric(kb/1000, "MB-peak-memory")
		}
	}
}
