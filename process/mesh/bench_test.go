package mesh

import (
	"bytes"
	"testing"
)

func BenchmarkReadSTL(b *testing.B) {
	f := globe(50, 500, 200)
	for name, data := range map[string][]byte{"binary": f.binary("globe"), "text": f.text("globe")} {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(data)))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := ReadSTL(bytes.NewReader(data), Options{}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.N*len(f))/b.Elapsed().Seconds(), "facets/s")
		})
	}
}

func BenchmarkRead3MF(b *testing.B) {
	f := globe(50, 200, 100)
	data := pack(b, model3MF(plain, `<object id="1">`+f.mesh()+`</object>`, `<item objectid="1"/>`))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := build3MF(data, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.N*len(f))/b.Elapsed().Seconds(), "facets/s")
}
