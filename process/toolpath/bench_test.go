package toolpath

import (
	"bytes"
	"crypto/md5"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"
)

// printLike makes G-code such as printing programs write: short extruding moves
// at a walk, a travel now and then, comments, temperature words.
func printLike(size int) []byte {
	rng := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	b.WriteString("; print\nM82\nG21\nG90\nG28\nM109 S210\nG92 E0\nG1 F1800\n")
	x, y, e := 100.0, 100.0, 0.0
	for n := 0; b.Len() < size; n++ {
		x = min(190, max(10, x+rng.Float64()*4-2))
		y = min(190, max(10, y+rng.Float64()*4-2))
		switch {
		case n%2000 == 0:
			fmt.Fprintf(&b, ";LAYER\nG1 Z%.3f F600\nG92 E0\nG1 F1800\n", 0.2+float64(n/2000)*0.2)
			e = 0
		case n%20 == 0:
			fmt.Fprintf(&b, "G0 X%.3f Y%.3f F9000\nG1 F1800\n", x, y)
		default:
			e += rng.Float64() * 0.1
			fmt.Fprintf(&b, "G1 X%.3f Y%.3f E%.5f\n", x, y, e)
		}
	}
	return b.Bytes()
}

func BenchmarkRead(b *testing.B) {
	text := printLike(32 << 20)
	b.SetBytes(int64(len(text)))
	start := time.Now()
	for b.Loop() {
		if _, err := Read(bytes.NewReader(text), Options{}); err != nil {
			b.Fatal(err)
		}
	}
	read := time.Since(start).Seconds() / float64(b.N)
	start = time.Now()
	md5.Sum(text)
	b.ReportMetric(time.Since(start).Seconds()/read, "of-md5-speed")
}

func BenchmarkLexOnly(b *testing.B) {
	text := printLike(32 << 20)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		x := &lexer{out: &batch{}}
		x.send = func(k *batch) *batch { return k }
		c := newChunks(bytes.NewReader(text), Options{})
		for {
			p, err := c.next()
			if err != nil {
				break
			}
			if err := x.lex(p); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func BenchmarkMachineOnly(b *testing.B) {
	text := printLike(512 << 10)
	b.SetBytes(int64(len(text)))
	var all []*batch
	x := &lexer{out: &batch{}}
	x.send = func(k *batch) *batch { all = append(all, k); return &batch{} }
	if err := x.lex(text); err != nil {
		b.Fatal(err)
	}
	o, _ := Options{}.filled()
	b.ResetTimer()
	for b.Loop() {
		m := newMachine(o)
		m.sendLegs = func(b *legBatch) *legBatch { return b }
		for _, k := range all {
			m.do(k)
		}
	}
}

func BenchmarkMD5(b *testing.B) {
	text := printLike(32 << 20)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		md5.Sum(text)
	}
}
