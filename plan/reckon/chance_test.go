package reckon_test

import (
	"errors"
	"fmt"
	"math"
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

// Every topic asked by chance: each number anywhere in its range, each word any of its choices, any material. Each
// answer is a line, as approved, in which no number or word moves unseen.
func TestTopicsAskedByChanceAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	materials := []string{"PLA", "PETG", "PET", "ABS", "PC", "PP", "PA6", "TPU", "PE-HD", "HIPS"}
	for _, topic := range reckon.Topics() {
		if slices.Contains(atHand, topic.Key) || topic.Key == "drying" {
			continue
		}
		luck := rand.New(rand.NewPCG(uint64(len(topic.Key)), uint64(topic.Key[0])))
		for i := range 6 {
			given := reckon.Given{Numbers: map[string]float64{}, Words: map[string]string{}}
			if i == 5 {
				given.Shop = shoptest.Bin(t, &shop.ShopSet{Name: "Bench", RoomTemperature: shoptest.P(288.15), RoomHumidity: shoptest.P(0.71)})
			}
			for _, in := range topic.Inputs {
				switch {
				case in.IsNumber() && luck.IntN(4) > 0:
					v := in.Low + luck.Float64()*(in.High-in.Low)
					if in.Low > 0 && in.High/in.Low > 50 {
						v = in.Default * math.Pow(in.High/in.Low, 0.3*(luck.Float64()-0.5))
					}
					given.Numbers[in.Key] = math.Min(math.Max(v, in.Low), in.High)
				case in.Choices != nil:
					given.Words[in.Key] = in.Choices[luck.IntN(len(in.Choices))]
				case in.Key == "material":
					given.Words[in.Key] = materials[luck.IntN(len(materials))]
				}
			}
			r, err := reckon.Answer(nil, topic.Key, given)
			var refused *shop.Error
			if errors.As(err, &refused) {
				fmt.Fprintf(&out, "%s %d refused %s %s\n", topic.Key, i, refused.Field, refused.What.Code)
				continue
			} else if err != nil {
				t.Fatal(topic.Key, err)
			}
			fmt.Fprintf(&out, "%s %d %s %d notes %s\n", topic.Key, i, r.Head.Code, len(r.Spoilers), checkrow.Whole(t, []any{r.Document, r.Swatches, r.Words, r.Inputs}))
		}
	}
	checkrow.ApprovedText(t, "chance", out.String())
}

// Heaps of colours by chance, some twice, and lots of which some taught how strongly they tint: as approved.
func TestHeapsByChanceAreAsApproved(t *testing.T) {
	t.Parallel()
	var out strings.Builder
	tell := func(what string, r reckon.Reckoning, err error) {
		var refused *shop.Error
		if errors.As(err, &refused) {
			fmt.Fprintf(&out, "%s refused %s %s\n", what, refused.Field, refused.What.Code)
			return
		} else if err != nil {
			t.Fatal(what, err)
		}
		fmt.Fprintf(&out, "%s %s %s %s\n", what, r.Head.Code, strings.Join(leftOut(r), "+"), checkrow.Whole(t, []any{r.Document, r.Swatches, r.Words}))
	}
	topic, err := reckon.TopicOf("scrap-colour")
	if err != nil {
		t.Fatal(err)
	}
	luck := rand.New(rand.NewPCG(5, 5))
	for i := range 5 {
		var list []colour.Portion
		for range 2 + luck.IntN(4) {
			list = append(list, colour.Portion{Colour: colour.RGB{R: luck.Float64(), G: luck.Float64(), B: luck.Float64()}, Weight: 0.1 + luck.Float64()})
		}
		list = append(list, list[luck.IntN(2)]) // one of them twice
		words := map[string]string{}
		for _, in := range topic.Inputs {
			if in.Choices != nil {
				words[in.Key] = in.Choices[luck.IntN(len(in.Choices))]
			}
		}
		if i%2 == 1 {
			words["wanted"] = "#7090a0"
		}
		r, err := reckon.Answer(nil, topic.Key, reckon.Given{Words: words, Colours: map[string][]colour.Portion{"colours": list}})
		tell(fmt.Sprint("heap ", i), r, err)
	}
	portion := func(id shop.LotID, kg float64) shop.Portion { return shop.Portion{Lot: id, Mass: kg} }
	seen := func(id shop.LotID, code string, melted shop.YesNo) *shop.Coloured {
		return &shop.Coloured{Lot: id, How: shop.Instrument, RGB: code, Melted: melted}
	}
	s := shoptest.Bin(t, shoptest.Painted("R1", shop.Regrind, "#c04020", 9), shoptest.Painted("R2", shop.Regrind, "#e0e0d0", 9), shoptest.Painted("R3", shop.Regrind, "#3050a0", 9), &shop.TakenIn{Lot: "R4", Class: shop.Regrind, Polymer: "PLA", Mass: 2},
		seen("R1", "#c04020", ""), seen("R2", "#e0e0d0", ""), seen("R3", "#3050a0", ""), shoptest.Blended("B1", portion("R1", 1), portion("R2", 1)), seen("B1", "#c08070", shop.Yes), shoptest.Blended("B2", portion("R2", 1), portion("R3", 1)), seen("B2", "#5870a8", shop.Yes),
		shoptest.Blended("B3", portion("R1", 0.4), portion("R3", 0.6)), &shop.Blended{From: []shop.Portion{portion("R4", 0.3), portion("R1", 0.3)}, Into: "B4"})
	lots := ""
	for _, in := range topic.Inputs {
		if in.Form == reckon.LotList {
			lots = in.Key
		}
	}
	for i, ids := range [][]shop.LotID{{"R1", "R2"}, {"R1", "R2", "R3"}, {"B3", "R2"}, {"B1", "B2"}, {"R4", "R1"}, {"B4"}, {"R2"}} {
		for _, wanted := range []string{"", "#a06060"} {
			r, err := reckon.Answer(nil, topic.Key, reckon.Given{Shop: s, Words: map[string]string{"wanted": wanted}, Lots: map[string][]shop.LotID{lots: ids}})
			tell(fmt.Sprintf("lots %d%s", i, wanted), r, err)
		}
	}
	checkrow.ApprovedText(t, "heaps", out.String())
}
