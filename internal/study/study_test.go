package study

import (
	"reflect"
	"strings"
	"testing"
)

// TestAFewMillsKeepTheirWord is the study in small: with so few mills a share is
// known to about a tenth, so only what is badly wrong fails. The aims are held
// against the whole study in docs/study/learning.md.
func TestAFewMillsKeepTheirWord(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("a study in small takes seconds")
	}
	const mills = 24
	results, err := Mills(mills, 7, []int{0, 10})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range results {
		for s, share := range Shares {
			if off := r.Covers[s] - share; off < -0.2 || off > 0.2 {
				t.Errorf("after %d records the %g range of new charges holds %g of the truths", r.Records, share, r.Covers[s])
			}
			if off := r.CoversBook[s] - share; off < -0.15 || off > 0.15 {
				t.Errorf("after %d records the %g range of parameters holds %g of the truths", r.Records, share, r.CoversBook[s])
			}
		}
	}
	if none, ten := results[0], results[1]; ten.Product >= none.Product || ten.Rise >= none.Rise {
		t.Errorf("ten records do not help: %+v, %+v", none, ten)
	}
	if ten := results[1]; ten.Product > 0.05 || ten.Rise > 1 {
		t.Errorf("after ten records forecasts are off by %g of the product and %g K", ten.Product, ten.Rise)
	}
}

func TestTheSameSeedInventsTheSameMills(t *testing.T) {
	t.Parallel()
	one, err := Mills(2, 3, []int{0, 3})
	if err != nil {
		t.Fatal(err)
	}
	two, err := Mills(2, 3, []int{0, 3})
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(one, two) {
		t.Errorf("%+v and %+v", one, two)
	}
}

func TestTheReportSaysWhatWasFound(t *testing.T) {
	t.Parallel()
	results := []Result{
		{Records: 0, Product: 0.2, Rise: 1.5, Covers: []float64{0.5, 0.8, 0.95}, CoversBook: []float64{0.5, 0.8, 0.95}},
		{Records: 10, Product: 0.061, Rise: 0.4, Covers: []float64{0.42, 0.8, 0.95}, CoversBook: []float64{0.5, 0.79, 0.94}},
	}
	text := Table(results, 5, 1)
	for _, want := range []string{"5 invented mills", "| 10 | 6.1 % | 0.40 K | 42 % | 80 % | 95 % |", "not met"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if picture := Picture(results); !strings.HasPrefix(picture, "<svg") || strings.Count(picture, "<polyline") < 4 || strings.Contains(picture, "NaN") {
		t.Errorf("no picture: %s", picture)
	}
}
