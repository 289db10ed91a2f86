package reckon_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/reckon"
	"hopperful/shop"
)

// Every topic with one number after the other near either end of what it takes: how it answers, and all
// its numbers and words as one. What is refused there is refused by its name.
func TestEndsAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	for _, topic := range reckon.Topics() {
		if topic.Key == "drying" { // each asks the whole dryer's plan
			continue
		}
		tell := func(what string, given reckon.Given) {
			r, err := reckon.Answer(nil, topic.Key, given)
			var refused *shop.Error
			if errors.As(err, &refused) {
				fmt.Fprintf(&out, "%s %s refused %s %s\n", topic.Key, what, refused.Field, refused.What.Code)
				return
			} else if err != nil {
				t.Fatal(topic.Key, err)
			}
			fmt.Fprintf(&out, "%s %s %s %s\n", topic.Key, what, r.Head.Code, checkrow.Whole(t, []any{r.Document, r.Swatches}))
		}
		tell("usual", reckon.Given{})
		for _, in := range topic.Inputs {
			if !in.IsNumber() {
				continue
			}
			for _, share := range []float64{0, 0.3, 1} {
				v := in.Low + share*(in.High-in.Low)
				if in.Low > 0 && in.High/in.Low > 50 {
					v = in.Low * math.Pow(in.High/in.Low, share)
				}
				tell(fmt.Sprint(in.Key, " ", share), reckon.Given{Numbers: map[string]float64{in.Key: v}})
			}
		}
	}
	checkrow.ApprovedText(t, "ends", out.String())
}
