package identification

import (
	"testing"

	"hopperful/polymer/identify"
)

// Hot metal from 40 to 300 °C tells something; only a float in another liquid than water has to be mixed.
func TestTestsAtTheEdge(t *testing.T) {
	t.Parallel()
	for text, in := range map[string]bool{"40 °C=yes": true, "39.9 °C=yes": false, "300 °C=no": true, "300.1 °C=no": false} {
		if f, err := ReadSticks(text); (err == nil) != in || in && f.Yes != (text == "40 °C=yes") {
			t.Errorf("%s: %+v, %v", text, f, err)
		}
	}
	for _, c := range []struct {
		test Test
		mix  bool
	}{
		{Test{Worth: identify.Worth{Test: identify.Test{Name: "floats", Kind: identify.Float, Liquid: identify.Water, At: 997}}}, false}, {Test{Worth: identify.Worth{Test: identify.Test{Name: "floats", Kind: identify.Float, Liquid: identify.Brine, At: 1100}}}, true},
		{Test{Worth: identify.Worth{Test: identify.Test{Name: "sticks", Kind: identify.Hot, At: 400}}}, false}, {Test{Worth: identify.Worth{Test: identify.Test{Name: "sticks", Kind: identify.Hot, Liquid: identify.Brine, At: 400}}}, false},
	} {
		if c.test.Mix().Empty() == c.mix {
			t.Errorf("%+v is mixed as %s", c.test, c.test.Mix().Code)
		}
	}
}
