package study

import ("testing";"time")

func TestX(t *testing.T) {
	start := time.Now()
	r, err := Mills(40, 1)
	if err != nil { t.Fatal(err) }
	for _, x := range r { t.Logf("%+v", x) }
	t.Log(time.Since(start))
}
