package main

import (
	"slices"
	"testing"
)

func TestChanges(t *testing.T) {
	t.Parallel()
	const text = "package a\n\nfunc f(x float64, e error) float64 {\n\tif e != nil || x <= 0 {\n\t\treturn -2.5e-3\n\t}\n\tx += 3\n\treturn x/7 - 1\n}\n\nvar s = \"a\" + \"b\"\n"
	all, err := changes("a.go", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, s := range all {
		got = append(got, s.what)
		if changed := string(s.apply([]byte(text))); changed == text {
			t.Errorf("%s changes nothing", s.what)
		}
	}
	want := []string{"&& for ||", "> for <=", "1 for 0", "0.005 for 2.5e-3", "-= for +=", "6 for 3", "+ for -", "* for /", "14 for 7", "2 for 1"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, wanted %q", got, want)
	}
	if all[1].line != 4 {
		t.Errorf("the comparison stands in line %d", all[1].line)
	}
	if _, err := changes("b.go", []byte("package")); err == nil {
		t.Error("a broken file was taken")
	}
}
