package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"runtime/debug"
	"strings"
	"testing"

	"hopperful/process/grain"
)

// large is a photograph of so many pixels with some thousand grains, as JPEG.
func large(b *testing.B, perMM float64) []byte {
	b.Helper()
	gray := drawn(Layout(grain.WholeSheet(), White, "", nil), perMM, nil)
	rng := rand.New(rand.NewPCG(1, 50))
	for range 5000 { // some of them touch
		d := 0.5 + 0.9*rng.Float64()
		dot(gray, (25+157*rng.Float64())*perMM, (35+114*rng.Float64())*perMM, d*perMM)
	}
	for i := range gray.Pix { // as cameras have it; without noise it would compress to nothing
		gray.Pix[i] = uint8(min(max(float64(gray.Pix[i])+4*rng.NormFloat64(), 0), 255))
	}
	img := image.NewYCbCr(gray.Rect, image.YCbCrSubsampleRatio420)
	copy(img.Y, gray.Pix)
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = 128, 128
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 90}); err != nil {
		b.Fatal(err)
	}
	return out.Bytes()
}

func benchmark(b *testing.B, perMM float64) {
	data := large(b, perMM)
	// The picture was drawn in this process: what that took is given back, and the
	// system's highest mark begins anew.
	debug.FreeOSMemory()
	_ = os.WriteFile("/proc/self/clear_refs", []byte("5"), 0)
	for b.Loop() {
		m, err := Measure(bytes.NewReader(data), grain.Options{})
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(m.Grains)), "grains")
	}
	if peak := peakMemory(); peak > 0 {
		b.ReportMetric(peak/1e6, "MB-peak")
	}
}

// peakMemory is the most the process had in memory since the mark began anew, where
// Linux tells [B].
func peakMemory() float64 {
	status, _ := os.ReadFile("/proc/self/status")
	_, after, _ := strings.Cut(string(status), "VmHWM:")
	kib := 0.0
	fmt.Sscan(after, &kib)
	return 1024 * kib
}

// From bytes to grains: 12 and 50 million pixels.
func Benchmark12Megapixels(b *testing.B) { benchmark(b, 18.1) }
func Benchmark50Megapixels(b *testing.B) { benchmark(b, 36.9) }
