package shop

import (
	"hopperful/fact"
	"slices"
)

// ShopSet names the shop and its surroundings; the latest one holds.
type ShopSet struct {
	Name             string   `json:"name"`
	Currency         string   `json:"currency,omitempty"`          // "EUR"
	ElectricityPrice *float64 `json:"electricity_per_j,omitempty"` // currency per J
	RoomTemperature  *float64 `json:"room_k,omitempty"`            // K
	RoomHumidity     *float64 `json:"room_humidity,omitempty"`     // 0–1
	Handling         *float64 `json:"handling_s,omitempty"`        // time between runs to empty, weigh and fill
	MostDust         *float64 `json:"most_dust,omitempty"`         // of granulate that is to print [1]; this and what follows: see limit.go
	MostMetal        *float64 `json:"most_metal,omitempty"`        // left in it, by mass [1]
	ChipShare        *float64 `json:"chip_share,omitempty"`        // of the nozzle, from which on a chip can block it [1]
	LeastStrength    *float64 `json:"least_strength,omitempty"`    // of a fresh print's, that a part must keep [1]
	MostPressure     *float64 `json:"most_pressure_pa,omitempty"`  // that a printer's head bears [Pa]
	MostBlocked      *float64 `json:"most_blocked,omitempty"`      // prints that may meet a chip [1]
	LeastSure        *float64 `json:"least_sure,omitempty"`        // of a lot's polymer before it goes with others [1]
	DecimalComma     bool     `json:"decimal_comma,omitempty"`     // how numbers are shown
	Language         string   `json:"language,omitempty"`          // of pages and answers: "en", "de"; empty: as browser and terminal say
}

// Kind is "shop_set".
func (*ShopSet) Kind() string { return "shop_set" }

func (b *ShopSet) check(*State, Record) error { return nil }

func (b *ShopSet) apply(s *State, _ Record) { s.Shop = *b }

// MaterialSet gives one property of a material this shop's own value; a later
// one for the same polymer and property replaces it.
type MaterialSet struct {
	Polymer  string  `json:"polymer"`
	Property string  `json:"property"` // symbol in package polymer
	Value    float64 `json:"value"`    // SI
	Low      float64 `json:"low"`      // SI, 10 %
	High     float64 `json:"high"`     // SI, 90 %
	Why      string  `json:"why,omitempty" text:"2000"`
}

// Kind is "material_set".
func (*MaterialSet) Kind() string { return "material_set" }

func (b *MaterialSet) check(*State, Record) error {
	if b.Polymer == "" {
		return invalid("polymer", fact.Say("shop.do_say_polymer"), fact.Saying{})
	}
	if b.Property == "" {
		return invalid("property", fact.Say("shop.do_say_property"), fact.Saying{})
	}
	if b.Low > b.Value || b.Value > b.High {
		return invalid("value", fact.Say("shop.value_outside_range"),
			fact.Say("shop.do_low_and_high"))
	}
	return nil
}

func (b *MaterialSet) apply(s *State, _ Record) {
	i := slices.IndexFunc(s.Materials, func(m MaterialSet) bool {
		return m.Polymer == b.Polymer && m.Property == b.Property
	})
	if i < 0 {
		s.Materials = append(s.Materials, *b)
		return
	}
	s.Materials[i] = *b
}
