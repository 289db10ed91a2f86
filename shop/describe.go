package shop

import (
	"fmt"
	"hopperful/fact"
	"math"
	"slices"
)

// MillSet describes a mill; a later one of the same name says what was changed
// or is better known, see [Means].
type MillSet struct {
	Mill  Mill  `json:"mill"`
	Means Means `json:"means,omitempty"`
}

// Kind is "mill_set".
func (*MillSet) Kind() string { return "mill_set" }

func (b *MillSet) names() (string, string) { return b.Kind(), b.Mill.Name }

func (b *MillSet) check(*State, Record) error {
	m := b.Mill
	if err := named(m.Name, "mill.name", fact.Say("shop.mill_no_name")); err != nil {
		return err
	}
	if !slices.Contains([]string{Steel, Stainless, Aluminium, CastIron, OtherMetal}, m.WallMetal) {
		return invalid("mill.wall_metal", "The wall's metal must be steel, stainless steel, aluminium or cast iron.",
			"Leave it empty for any other.")
	}
	// A hole as wide as the chamber itself holds nothing back.
	if m.Screen.Hole != nil && m.Chamber != nil && *m.Screen.Hole > math.Cbrt(*m.Chamber) {
		return invalid("mill.screen.hole_m", fmt.Sprintf("A screen hole of %s does not fit a chamber of %s.",
			length(*m.Screen.Hole), volume(*m.Chamber)), "Check the unit of both.")
	}
	if m.RatedPower != nil && m.ContinuousPower != nil && *m.ContinuousPower > *m.RatedPower {
		return invalid("mill.continuous_w", "What the motor may take all day is above its rated power.",
			"The rated power is the figure on the label.")
	}
	return m.Controller.check()
}

// check says whether the controller's levels hold together.
func (c *Control) check() error {
	if c == nil {
		return nil
	}
	for field, list := range map[string][]LevelWatts{"watts": c.Watts, "idle_watts": c.IdleWatts} {
		for i, w := range list {
			if w.Level < 1 || w.Level > c.Levels {
				return invalid(fmt.Sprintf("mill.controller.%s.%d.level", field, i),
					fmt.Sprintf("Level %d is outside the controller's levels 1 to %d.", w.Level, c.Levels), "")
			}
		}
	}
	return nil
}

func (b *MillSet) apply(s *State, r Record) {
	i := s.millIndex(b.Mill.Name)
	if i < 0 {
		i, s.Mills = len(s.Mills), append(s.Mills, MillState{})
	}
	s.Mills[i].describe(r, b)
	if told := s.Mills[i].told; len(told) > 1 && len(changes(told[len(told)-2], told[len(told)-1])) > 0 {
		s.workedOn(b.Mill.Name)
	}
}

// ScaleSet describes a scale; a later one of the same name replaces it.
type ScaleSet struct {
	Scale Scale `json:"scale"`
}

// Kind is "scale_set".
func (*ScaleSet) Kind() string { return "scale_set" }

func (b *ScaleSet) check(*State, Record) error {
	if err := named(b.Scale.Name, "scale.name", fact.Say("shop.scale_no_name")); err != nil {
		return err
	}
	if b.Scale.Capacity != nil && *b.Scale.Capacity <= b.Scale.Resolution {
		return invalid("scale.capacity_kg", "The most the scale carries is not above one of its digits.", "Check the unit of both.")
	}
	return nil
}

func (b *ScaleSet) apply(s *State, _ Record) {
	i := slices.IndexFunc(s.Scales, func(x Scale) bool { return x.Name == b.Scale.Name })
	if i < 0 {
		s.Scales = append(s.Scales, b.Scale)
		return
	}
	s.Scales[i] = b.Scale
}

// PrinterSet describes a printer; a later one of the same name replaces it.
type PrinterSet struct {
	Printer Printer `json:"printer"`
}

// Kind is "printer_set".
func (*PrinterSet) Kind() string { return "printer_set" }

func (b *PrinterSet) names() (string, string) { return b.Kind(), b.Printer.Name }

func (b *PrinterSet) check(*State, Record) error {
	p := b.Printer
	if err := named(p.Name, "printer.name", fact.Say("shop.printer_no_name")); err != nil {
		return err
	}
	if p.Nozzle != nil && p.ScrewBore != nil && *p.Nozzle > *p.ScrewBore {
		return invalid("printer.nozzle_m", "The nozzle's bore is wider than the barrel.", "Check the unit of both.")
	}
	return nil
}

func (b *PrinterSet) apply(s *State, _ Record) {
	i := slices.IndexFunc(s.Printers, func(x Printer) bool { return x.Name == b.Printer.Name })
	if i < 0 {
		s.Printers = append(s.Printers, b.Printer)
		return
	}
	s.Printers[i] = b.Printer
}

// DryerSet describes a dryer; a later one of the same name replaces it.
type DryerSet struct {
	Dryer Dryer `json:"dryer"`
}

// Kind is "dryer_set".
func (*DryerSet) Kind() string { return "dryer_set" }

func (b *DryerSet) names() (string, string) { return b.Kind(), b.Dryer.Name }

func (b *DryerSet) check(*State, Record) error {
	d := b.Dryer
	if err := named(d.Name, "dryer.name", fact.Say("shop.dryer_no_name")); err != nil {
		return err
	}
	if d.Way == "" {
		return invalid("dryer.way", "Nobody has said what kind of dryer "+clip(d.Name)+" is.", "It is an oven, a dehydrator, a desiccant box or a dryer with dry air.")
	}
	if d.DewPoint != nil && d.Way != DryAir {
		return invalid("dryer.dew_point_k", "A dew point belongs to a dryer with dry air.", "Leave it empty, or say that the dryer blows dry air.")
	}
	if d.Humidity != nil && d.Way != DesiccantBox {
		return invalid("dryer.box_humidity", "A humidity belongs to a desiccant box.", "Leave it empty, or say that the dryer is such a box.")
	}
	if d.DewPoint != nil && d.Temperature != nil && *d.DewPoint > *d.Temperature {
		return invalid("dryer.dew_point_k", "The dew point "+warm(*d.DewPoint)+" is above the dryer's own "+warm(*d.Temperature)+".", "Air cannot hold that much water; check both.")
	}
	return nil
}

func (b *DryerSet) apply(s *State, _ Record) {
	i := slices.IndexFunc(s.Dryers, func(x Dryer) bool { return x.Name == b.Dryer.Name })
	if i < 0 {
		s.Dryers = append(s.Dryers, b.Dryer)
		return
	}
	s.Dryers[i] = b.Dryer
}
