package shop

import "slices"

// ShopSet names the shop and its surroundings; the latest one holds.
type ShopSet struct {
	Name             string   `json:"name"`
	Currency         string   `json:"currency,omitempty"`          // "EUR"
	ElectricityPrice *float64 `json:"electricity_per_j,omitempty"` // currency per J
	RoomTemperature  *float64 `json:"room_k,omitempty"`            // K
	RoomHumidity     *float64 `json:"room_humidity,omitempty"`     // 0–1
	Handling         *float64 `json:"handling_s,omitempty"`        // time between runs to empty, weigh and fill
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
		return invalid("polymer", "Say which polymer the value is for.", "")
	}
	if b.Property == "" {
		return invalid("property", "Say which property the value is of.", "")
	}
	if b.Low > b.Value || b.Value > b.High {
		return invalid("value", "The value must lie between its low and its high end.",
			"Low is what nine in ten measurements exceed, high what one in ten exceeds.")
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
