package reckon_test

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hopperful/internal/checkrow"
	"hopperful/plan/reckon"
	"hopperful/process/colour"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

// The topics that the books, the ageing studies or the shop's records speak in, for some
// materials, every choice of their words, with numbers moved and in a busy shop. These only
// notice that something moved, here or in the books; -run AsApproved -update keeps it.
func TestTopicsAreAsApproved(t *testing.T) {
	t.Parallel()
	busy := shoptest.Busy(t, rand.New(rand.NewPCG(1, 1)))
	var out strings.Builder
	told := func(topic reckon.Topic, what string, given reckon.Given) {
		fmt.Fprintf(&out, "%s %s\n", topic.Key, what)
		r, err := reckon.Answer(nil, topic.Key, given)
		var refused *shop.Error
		if errors.As(err, &refused) {
			fmt.Fprintf(&out, "  refused %s %s\n", refused.Field, refused.What.Code)
			return
		} else if err != nil {
			t.Fatal(topic.Key, err)
		}
		written(&out, r)
		for _, s := range r.Swatches {
			fmt.Fprintf(&out, "  %s %s %t %.8g %.8g\n", s.Key, s.RGB, s.Exact, s.Lab, s.Share)
		}
	}
	for _, topic := range reckon.Topics() {
		told(topic, "in a busy shop", reckon.Given{Shop: busy, Lots: lotsFor(topic)})
		for _, in := range topic.Inputs {
			for _, choice := range in.Choices {
				told(topic, in.Key+" "+choice, reckon.Given{Words: map[string]string{in.Key: choice}})
			}
		}
		if slices.Contains(atHand, topic.Key) {
			continue
		}
		for _, by := range []float64{1.2, 0.85} {
			given := reckon.Given{Numbers: map[string]float64{}}
			for _, in := range topic.Inputs {
				if in.IsNumber() {
					given.Numbers[in.Key] = moved(in, by)
				}
			}
			told(topic, fmt.Sprint("by ", by), given)
		}
		if slices.ContainsFunc(topic.Inputs, func(in reckon.Input) bool { return in.Key == "material" }) {
			for _, material := range []string{"ABS", "PETG", "PA6"} {
				told(topic, material, reckon.Given{Words: map[string]string{"material": material}})
			}
		}
	}
	for _, text := range []string{"#1c1c1c 1, #f2f2ee 9", "#c0402a 3, #1e5aa8 3, #e0c020 4", "#000000 1"} {
		list, err := colour.ParsePortions(text)
		if err != nil {
			t.Fatal(err)
		}
		for _, wanted := range []string{"", "#404040", "#d08070"} {
			topic, _ := reckon.TopicOf("scrap-colour")
			told(topic, text+" "+wanted, reckon.Given{Words: map[string]string{"wanted": wanted}, Colours: map[string][]colour.Portion{"colours": list}})
		}
	}
	checkrow.ApprovedText(t, "topics", out.String())
}

func lotsFor(topic reckon.Topic) map[string][]shop.LotID {
	for _, in := range topic.Inputs {
		if in.Form == reckon.LotList {
			return map[string][]shop.LotID{in.Key: {"S1", "R2"}}
		}
	}
	return nil
}

// Every number is taken at both of its ends, as far as the models go, and refused by its own
// name beyond them.
func TestInputsAtTheEdge(t *testing.T) {
	t.Parallel()
	for _, topic := range reckon.Topics() {
		for _, in := range topic.Inputs {
			if !in.IsNumber() {
				continue
			}
			if in.Low >= in.High || in.Default < in.Low || in.Default > in.High {
				t.Errorf("%s: %s is %g, from %g to %g", topic.Key, in.Key, in.Default, in.Low, in.High)
			}
			span := in.High - in.Low
			for _, v := range []float64{in.Low - 1e-6*span, in.High + 1e-6*span} {
				_, err := reckon.Answer(nil, topic.Key, reckon.Given{Numbers: map[string]float64{in.Key: v}})
				var refused *shop.Error
				if !errors.As(err, &refused) || refused.Field != in.Key || refused.What.Code != "reckon.outside" {
					t.Errorf("%s: %s of %g: %v", topic.Key, in.Key, v, err)
				}
			}
		}
	}
}
