package store

import (
	"fmt"
	"os"
	"runtime"
	"testing"
	"time"

	"hopperful/internal/growth"
	"hopperful/shop"
)

// BenchmarkOpen opens shops of many records: scrap taken in, ground and weighed.
func BenchmarkOpen(b *testing.B) {
	for _, n := range []int{1000, 4000, 16_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := fresh(b)
			mustAppend(b, s, shop.Record{Body: &shop.MillSet{Mill: shop.Mill{Name: "shredder"}}})
			var list []shop.Record
			for i := range n {
				at := opening.Add(time.Duration(i-n) * time.Minute)
				if i%4 == 0 {
					list = append(list, shop.Record{At: at, Body: &shop.TakenIn{Class: shop.Scrap, Polymer: "PLA", Mass: 1, Lot: shop.LotID(fmt.Sprintf("S%d", i/4+1))}})
					continue
				}
				product := 0.19
				list = append(list, shop.Record{At: at, By: "Ann", Body: &shop.Ground{Mill: "shredder", From: shop.LotID(fmt.Sprintf("S%d", i/4+1)), Charge: 0.2, Run: 180, Product: &product, Into: shop.LotID(fmt.Sprintf("R%d", i/400+1))}})
			}
			mustAppend(b, s, list...)
			path := s.Path()
			s.Close()
			b.ReportAllocs()
			for b.Loop() {
				s, err := Open(b.Context(), path, Options{ReadOnly: true})
				if err != nil {
					b.Fatal(err)
				}
				s.Close()
			}
			b.ReportMetric(float64(b.N*n)/b.Elapsed().Seconds(), "records/s")
		})
	}
}

// BenchmarkOpenKept opens long shops from what is kept beside their files, and tells how
// long the file is and what the heap holds once it is open.
func BenchmarkOpenKept(b *testing.B) {
	for _, n := range []int{10_000, 100_000, 1_000_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			s := fresh(b)
			err := growth.Records(n, opening, func(piece []shop.Record) error {
				_, err := s.Append(b.Context(), opening, piece...)
				return err
			})
			if err != nil {
				b.Fatal(err)
			}
			path := s.Path()
			s.Close()
			if f, err := os.Stat(keptPath(path)); err == nil {
				b.ReportMetric(float64(f.Size())/1e6, "MB-kept")
			}
			b.ReportAllocs()
			for b.Loop() {
				s, err := Open(b.Context(), path, Options{ReadOnly: true})
				if err != nil {
					b.Fatal(err)
				}
				if s.keptWhy != nil || s.State().History.Len() != n {
					b.Fatal(s.keptWhy, s.State().History.Len())
				}
				s.Close()
			}
			s, err = Open(b.Context(), path, Options{ReadOnly: true})
			if err != nil {
				b.Fatal(err)
			}
			defer s.Close()
			runtime.GC()
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			b.ReportMetric(float64(m.HeapAlloc)/1e6, "MB-heap")
			runtime.KeepAlive(s)
		})
	}
}
