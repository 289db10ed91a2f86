package photo

import (
	"bytes"
	"image"
	"image/jpeg"
	"testing"

	"hopperful/process/grain"
)

// large is a photograph of so many pixels with some thousand grains, as JPEG.
func large(b *testing.B, perMM float64) []byte {
	b.Helper()
	discs := make([]float64, 60)
	for i := range discs {
		discs[i] = 3
	}
	gray := drawn(Layout(grain.WholeSheet(), White, "", nil), perMM, discs)
	for i := range gray.Pix { // some noise, or it would compress to nothing
		gray.Pix[i] = uint8(int(gray.Pix[i]) + i*7919%7 - 3)
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
	b.ReportMetric(0, "ns/op")
	for b.Loop() {
		img, err := Decode(data)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := grain.Measure(img, grain.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// From bytes to grains: 12 and 50 million pixels.
func Benchmark12Megapixels(b *testing.B) { benchmark(b, 18.1) }
func Benchmark50Megapixels(b *testing.B) { benchmark(b, 36.9) }
