package reckon_test

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"hopperful/answer"
	"hopperful/internal/checkrow"
	"hopperful/plan/reckon"
	"hopperful/quantity"
	"hopperful/shop"
)

// Scripts and bookmarks ask by these keys, defaults and ranges: moving one is a change
// somebody must see.
func TestInputsAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for _, topic := range reckon.Topics() {
		for _, in := range topic.Inputs {
			fmt.Fprintf(&out, "%s %s %.10g %.10g %.10g %s %s\n", topic.Key, in.Key, in.Default, in.Low, in.High, cmp.Or(in.Word, "-"), cmp.Or(string(in.Form), "-"))
		}
	}
	checkrow.ApprovedText(t, "inputs", out.String())
}

// atHand are the topics whose answer follows from the numbers given alone: nothing the
// books or the records may say anew moves it.
var atHand = []string{"warming", "packing", "bridging", "discharge", "air", "drying", "open", "weighing", "purge", "metal", "blocked", "noise", "concentrate", "scrap-colour"}

// The answers of topics that follow from what is given are as approved, at the defaults and
// with every number moved either way. What the models make of numbers is held by their own
// check rows; this holds that the room hands them over and on unbent.
func TestAnswersAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for _, key := range atHand {
		topic, err := reckon.TopicOf(key)
		if err != nil {
			t.Fatal(err)
		}
		for _, by := range []float64{1, 1.2, 0.85, 1.5} {
			given := reckon.Given{Numbers: map[string]float64{}}
			for _, in := range topic.Inputs {
				if in.IsNumber() {
					given.Numbers[in.Key] = moved(in, by)
				}
			}
			fmt.Fprintf(&out, "%s %g\n", key, by)
			r, err := reckon.Answer(nil, key, given)
			var refused *shop.Error
			if errors.As(err, &refused) {
				fmt.Fprintf(&out, "  refused %s %s\n", refused.Field, refused.What.Code)
				continue
			} else if err != nil {
				t.Fatal(err)
			}
			written(&out, r)
		}
	}
	checkrow.ApprovedText(t, "answers", out.String())
}

// moved is an input's default moved by a factor, temperatures by as many tens of kelvins.
func moved(in reckon.Input, by float64) float64 {
	v := in.Default * by
	switch in.Kind {
	case quantity.Temperature:
		v = in.Default + 20*(by-1)
	case quantity.Count:
		v = math.Round(in.Default*by + (by - 1))
	}
	return math.Min(math.Max(v, in.Low), in.High)
}

func written(out *strings.Builder, r reckon.Reckoning) {
	fmt.Fprintf(out, "  says %s\n", r.Head.Code)
	for _, f := range r.Figures {
		if f.Key == "plan_for" || f.Key == "books" { // another room's
			continue
		}
		fmt.Fprintf(out, "  %s %.8g %.8g %.8g\n", f.Key, f.Value, f.Low, f.High)
	}
	for _, s := range r.Spoilers {
		fmt.Fprintf(out, "  notes %s\n", s.Code)
	}
	for _, c := range r.Charts {
		for _, x := range c.Curves {
			for i := 0; i < len(x.X); i += max(1, (len(x.X)-1)/4) {
				fmt.Fprintf(out, "  %s.%s %.8g %.8g\n", c.Key, x.Key, x.X[i], x.Mid[i])
			}
		}
		slices.SortFunc(c.Lines, func(a, b answer.Line) int { return strings.Compare(a.Key, b.Key) })
		for _, l := range c.Lines {
			fmt.Fprintf(out, "  %s.%s %.8g\n", c.Key, l.Key, l.Value)
		}
	}
}
