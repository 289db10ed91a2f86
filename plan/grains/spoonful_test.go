package grains

import (
	"math"
	"testing"

	"hopperful/process/grain"
)

// How many pictures more narrow d50 to within 5 %: so many times those there are as the square of how far they leave it, 1.96 standard deviations
// against 5 %; one at the least. A range is told as wide from a tenth on. Few grains answer in no time.
func TestHowManyPicturesMore(t *testing.T) {
	t.Parallel()
	for _, spread := range []float64{0, 0.2, 0.6, 2} {
		all := discs(30, 1e-3)
		for i := range all {
			f := 1 + spread*float64(i*7%30)/30
			all[i].Width, all[i].Length, all[i].Area = f*all[i].Width, f*all[i].Length, f*f*all[i].Area
		}
		j := asked(t, Ask{Lot: "R1", Samples: []grain.Sample{of(4e-5, all)}})
		left := j.sampled()
		for _, pictures := range []int{0, 1, 3} {
			j.ask.Pictures = make([]*grain.Measured, pictures)
			want := max(1, math.Ceil(math.Max(1, float64(pictures))*(math.Pow(1.96*left/0.05, 2)-1)))
			if got := j.morePictures(); float64(got) != want {
				t.Errorf("%g open in %d pictures want %d more, by hand %g", left, pictures, got, want)
			}
		}
		j.ask.Pictures = nil
		j.spoilers()
		wide := false
		for _, x := range j.doc.Spoilers {
			wide = wide || x.Code == "grains.wide_range"
		}
		if wide != (1.96*left > 0.1) {
			t.Errorf("%g open: told as wide %t", left, wide)
		}
	}
}
