package shop

import (
	"fmt"
	"hopperful/fact"
	"hopperful/quantity"
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
		return invalid("mill.wall_metal", fact.Say("shop.not_a_wall_metal"),
			fact.Say("shop.do_empty_for_other"))
	}
	// A hole as wide as the chamber itself holds nothing back.
	if m.Screen.Hole != nil && m.Chamber != nil && *m.Screen.Hole > math.Cbrt(*m.Chamber) {
		return invalid("mill.screen.hole_m", fact.Say("shop.hole_over_chamber", fact.Measured("hole", quantity.Length, *m.Screen.Hole), fact.Measured("chamber", quantity.Volume, *m.Chamber)), fact.Say("shop.do_check_units"))
	}
	if m.RatedPower != nil && m.ContinuousPower != nil && *m.ContinuousPower > *m.RatedPower {
		return invalid("mill.continuous_w", fact.Say("shop.continuous_over_rated"),
			fact.Say("shop.do_rated_power"))
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
					fact.Say("shop.level_outside", fact.Count("level", w.Level), fact.Count("levels", c.Levels)), fact.Saying{})
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

// inPlace is a list with one thing in the place of that of its name, or at the end.
func inPlace[T any](list []T, one T, name func(T) string) []T {
	i := slices.IndexFunc(list, func(x T) bool { return name(x) == name(one) })
	if i < 0 {
		return append(list, one)
	}
	list[i] = one
	return list
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
		return invalid("scale.capacity_kg", fact.Say("shop.scale_most"), fact.Say("shop.do_check_units"))
	}
	return nil
}

func (b *ScaleSet) apply(s *State, _ Record) {
	s.Scales = inPlace(s.Scales, b.Scale, func(x Scale) string { return x.Name })
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
		return invalid("printer.nozzle_m", fact.Say("shop.bore_over_barrel"), fact.Say("shop.do_check_units"))
	}
	return nil
}

func (b *PrinterSet) apply(s *State, _ Record) {
	s.Printers = inPlace(s.Printers, b.Printer, func(x Printer) string { return x.Name })
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
		return invalid("dryer.way", fact.Say("shop.dryer_kind_unknown", fact.Name("name", clip(d.Name))), fact.Say("shop.do_dryer_kinds"))
	}
	if d.DewPoint != nil && d.Way != DryAir {
		return invalid("dryer.dew_point_k", fact.Say("shop.dew_point_needs_dry_air"), fact.Say("shop.do_empty_or_dry_air"))
	}
	if d.Humidity != nil && d.Way != DesiccantBox {
		return invalid("dryer.box_humidity", fact.Say("shop.humidity_needs_box"), fact.Say("shop.do_empty_or_box"))
	}
	if d.DewPoint != nil && d.Temperature != nil && *d.DewPoint > *d.Temperature {
		return invalid("dryer.dew_point_k", fact.Say("shop.dew_point_over_dryer", fact.Measured("dew_point", quantity.Temperature, *d.DewPoint), fact.Measured("temperature", quantity.Temperature, *d.Temperature)), fact.Say("shop.do_check_air_water"))
	}
	return nil
}

func (b *DryerSet) apply(s *State, _ Record) {
	s.Dryers = inPlace(s.Dryers, b.Dryer, func(x Dryer) string { return x.Name })
}
