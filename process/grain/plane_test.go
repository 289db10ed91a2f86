package grain

import (
	"image"
	"image/color"
	"testing"
)

// The luma of red, green and blue is that of JFIF (ITU-R BT.601): 0.299, 0.587, 0.114 of
// 255; a JPEG's own luma is taken as it is, and every second pixel where asked.
func TestPlane(t *testing.T) {
	t.Parallel()
	img := image.NewNRGBA(image.Rect(3, 5, 7, 6))
	for i, c := range []color.NRGBA{{255, 0, 0, 255}, {0, 255, 0, 255}, {0, 0, 255, 255}, {10, 200, 30, 255}} {
		img.SetNRGBA(3+i, 5, c)
	}
	for c, want := range map[Channel][]uint8{Luma: {76, 150, 29, 124}, Red: {255, 0, 0, 10}, Green: {0, 255, 0, 200}, Blue: {0, 0, 255, 30}, Lightest: {255, 255, 255, 200}, Darkest: {0, 0, 0, 10}} {
		if got := Plane(img, c, 1); string(got.V) != string(want) {
			t.Errorf("%s: %v, wanted %v", c, got.V, want)
		}
	}
	if got := Plane(img, Red, 2); string(got.V) != string([]uint8{255, 0}) {
		t.Errorf("every second: %v", got.V)
	}
	jpeg := image.NewYCbCr(image.Rect(0, 0, 4, 2), image.YCbCrSubsampleRatio420)
	copy(jpeg.Y, []uint8{1, 2, 3, 4, 5, 6, 7, 8})
	if got := Plane(jpeg, Luma, 1); string(got.V) != string([]uint8{1, 2, 3, 4, 5, 6, 7, 8}) {
		t.Errorf("a JPEG's luma is %v", got.V)
	}
	part := jpeg.SubImage(image.Rect(1, 0, 3, 2)) // its rows are not one after the other
	if got := Plane(part, Luma, 1); string(got.V) != string([]uint8{2, 3, 6, 7}) {
		t.Errorf("a part of it is %v", got.V)
	}
}
