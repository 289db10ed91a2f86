package shop

import (
	"strings"
	"time"

	"hopperful/fact"
)

// NeedSet says what the next print eats; a later one of the same name replaces it.
type NeedSet struct {
	Need Need `json:"need"`
}

// Need is an amount of a polymer that a print wants.
type Need struct {
	Name     string   `json:"name"`
	Polymer  string   `json:"polymer,omitempty"`
	Colour   string   `json:"colour,omitempty"`            // what the lots shall be called
	RGB      string   `json:"rgb,omitempty"`               // what the print shall look like: "#c98a5c"
	From     string   `json:"from"`                        // "g-code", "mesh" or "typed"
	File     string   `json:"file,omitempty" text:"255"`   // name of the file it was read from
	Taken    string   `json:"taken,omitempty" text:"2000"` // what was assumed in reading it, for the reader
	Mass     *float64 `json:"mass_kg,omitempty"`           // typed, or nil: volume times density
	Volume   *float64 `json:"volume_m3,omitempty"`         // of plastic
	VolumeLo *float64 `json:"volume_low_m3,omitempty"`     // 10 %, where the reading itself is uncertain
	VolumeHi *float64 `json:"volume_high_m3,omitempty"`
	Time     *float64 `json:"print_s,omitempty"`        // acceleration-limited estimate
	MeanFlow *float64 `json:"mean_flow_m3_s,omitempty"` // while extruding
	PeakFlow *float64 `json:"peak_flow_m3_s,omitempty"` // over one second
	Done     bool     `json:"done,omitempty"`           // printed or given up
}

// Kind is "need_set".
func (*NeedSet) Kind() string { return "need_set" }

func (b *NeedSet) names() (string, string) { return b.Kind(), b.Need.Name }

// Bar is what keeps the plastic a print is to be made of from mill, dryer and printer; nil
// where nothing does, or none is named yet.
func (n Need) Bar() *Bar {
	if strings.TrimSpace(n.Polymer) == "" {
		return nil
	}
	return BarOf(n.Polymer)
}

func (b *NeedSet) check(*State, Record) error {
	n := b.Need
	if err := named(n.Name, "need.name", fact.Say("shop.need_no_name")); err != nil {
		return err
	}
	if n.From != "g-code" && n.From != "mesh" && n.From != "typed" {
		return invalid("need.from", fact.Say("shop.need_source_unknown"), fact.Saying{})
	}
	if bar := n.Bar(); bar != nil {
		return bar.Refusal("need.polymer")
	}
	if n.Mass == nil && n.Volume == nil {
		return invalid("need.mass_kg", fact.Say("shop.need_of_nothing", fact.Name("name", n.Name)), fact.Say("shop.do_type_mass"))
	}
	if n.Volume != nil && (n.VolumeLo != nil && *n.VolumeLo > *n.Volume || n.VolumeHi != nil && *n.VolumeHi < *n.Volume) {
		return invalid("need.volume_m3", fact.Say("shop.volume_outside_range"), fact.Saying{})
	}
	if n.MeanFlow != nil && n.PeakFlow != nil && *n.MeanFlow > *n.PeakFlow {
		return invalid("need.mean_flow_m3_s", fact.Say("shop.mean_over_peak"), fact.Saying{})
	}
	return checkRGB(n.RGB, "need.rgb")
}

func (b *NeedSet) apply(s *State, r Record) {
	if s.needed == nil {
		s.needed = map[string]time.Time{}
	}
	s.needed[b.Need.Name] = r.At
	s.Needs = inPlace(s.Needs, b.Need, func(n Need) string { return n.Name })
}
