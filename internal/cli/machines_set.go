package cli

import (
	"slices"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

func machinesSetCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use:     "set",
		Example: `  hopperful machines set mill --name Rattle --rated 1.8kW --lid-switch yes`,
		Args:    unknownCommand,
		RunE: func(c *cobra.Command, _ []string) error {
			return usagef(c, fact.Say("cli.do_say_machine"))
		},
	}
	c.AddCommand(setMillCommand(env), setScaleCommand(env), setPrinterCommand(env), setDryerCommand(env), setPersonCommand(env), setShopCommand(env))
	return c
}

// setter is a command that describes one thing over what is known of it. Its
// flags are noted as they are parsed, and laid once more over what the shop
// says when that has been read.
type setter struct {
	common noting
	name   string
	only   bool // there is one of it, so it need not be named
	typed  []typed
}

// typed is a flag's value and the text it was given.
type typed struct {
	value pflag.Value
	text  string
}

// noted is a flag's value that notes what it was given.
type noted struct {
	pflag.Value
	setter *setter
}

// Set checks the text by setting the value, and notes it.
func (n noted) Set(text string) error {
	if err := n.Value.Set(text); err != nil {
		return err
	}
	n.setter.typed = append(n.setter.typed, typed{n.Value, text})
	return nil
}

// command builds the cobra command: flags adds the flags, read fetches what
// the shop says now, body makes the record.
func (s *setter) command(env *Env, c *cobra.Command, flags func(*cobra.Command), read func(*shop.State), body func() shop.Body) *cobra.Command {
	c.Args = takes(0, 0, "takes.flags_only")
	flags(c)
	c.Flags().VisitAll(func(f *pflag.Flag) { f.Value = noted{f.Value, s} })
	if c.Flags().Lookup("name") == nil {
		c.Flags().StringVar(&s.name, "name", "", "")
	}
	s.common.flags(c, env)
	shopFlag(c)
	c.RunE = func(c *cobra.Command, _ []string) error {
		if err := needed(c, "name"); err != nil && !s.only {
			return err
		}
		return s.common.write(c, env, func(state *shop.State) (shop.Body, error) {
			read(state)
			for _, t := range s.typed {
				if err := t.value.Set(t.text); err != nil {
					return nil, usage(c, err)
				}
			}
			return body(), nil
		})
	}
	return c
}

func setScaleCommand(env *Env) *cobra.Command {
	s := &setter{}
	var b shop.ScaleSet
	var digit *float64
	return s.command(env, &cobra.Command{
		Use:     "scale",
		Example: `  hopperful machines set scale --name "Bench scale" --resolution 1g --capacity 5kg`,
	}, func(c *cobra.Command) {
		quantityVar(c, &digit, "resolution", quantity.Mass)
		quantityVar(c, &b.Scale.Capacity, "capacity", quantity.Mass)
		c.Flags().BoolVar(&b.Scale.Retired, "retired", false, "")
	}, func(state *shop.State) {
		i := slices.IndexFunc(state.Scales, func(x shop.Scale) bool { return x.Name == s.name })
		if i >= 0 {
			b.Scale = state.Scales[i]
		}
	}, func() shop.Body {
		b.Scale.Name = s.name
		if digit != nil {
			b.Scale.Resolution = *digit
		}
		return &b
	})
}

func setPrinterCommand(env *Env) *cobra.Command {
	s := &setter{}
	var b shop.PrinterSet
	p := &b.Printer
	return s.command(env, &cobra.Command{
		Use:     "printer",
		Example: `  hopperful machines set printer --name Puddle --nozzle 0.8mm --hopper 0.9l --per-turn 85mm3`,
	}, func(c *cobra.Command) {
		quantityVar(c, &p.Nozzle, "nozzle", quantity.Length)
		quantityVar(c, &p.ScrewBore, "screw", quantity.Length)
		quantityVar(c, &p.HeaterWatt, "heaters", quantity.Power)
		quantityVar(c, &p.IdleWatt, "idle", quantity.Power)
		quantityVar(c, &p.Hopper, "hopper", quantity.Volume)
		quantityVar(c, &p.HopperExit, "hopper-exit", quantity.Length)
		quantityVar(c, &p.PerTurn, "per-turn", quantity.Volume)
		quantityVar(c, &p.LargestIn, "largest-grain", quantity.Length)
		c.Flags().BoolVar(&p.Retired, "retired", false, "")
	}, func(state *shop.State) {
		i := slices.IndexFunc(state.Printers, func(x shop.Printer) bool { return x.Name == s.name })
		if i >= 0 {
			b.Printer = state.Printers[i]
		}
	}, func() shop.Body {
		p.Name = s.name
		return &b
	})
}

func setDryerCommand(env *Env) *cobra.Command {
	s := &setter{}
	var b shop.DryerSet
	var way string
	d := &b.Dryer
	return s.command(env, &cobra.Command{
		Use: "dryer",
		Example: `  hopperful machines set dryer --name "Kitchen oven" --way oven --hottest 120C --bed 2cm
  hopperful machines set dryer --name "Drying tower" --way dry-air --dew-point -35C --air 9m3/h`,
	}, func(c *cobra.Command) {
		c.Flags().Var(wordFlag{dryerKinds, &way}, "way", "")
		quantityVar(c, &d.Temperature, "hottest", quantity.Temperature)
		quantityVar(c, &d.Bed, "bed", quantity.Length)
		quantityVar(c, &d.Flow, "air", quantity.VolumeFlow)
		quantityVar(c, &d.DewPoint, "dew-point", quantity.Temperature)
		quantityVar(c, &d.Humidity, "box-humidity", quantity.Humidity)
		c.Flags().BoolVar(&d.Retired, "retired", false, "")
	}, func(state *shop.State) {
		i := slices.IndexFunc(state.Dryers, func(x shop.Dryer) bool { return x.Name == s.name })
		if i >= 0 {
			b.Dryer = state.Dryers[i]
		}
	}, func() shop.Body {
		d.Name = s.name
		if way != "" {
			d.Way = shop.Way(way)
		}
		return &b
	})
}

func setPersonCommand(env *Env) *cobra.Command {
	s := &setter{}
	var b shop.PersonSet
	return s.command(env, &cobra.Command{
		Use:     "person",
		Example: `  hopperful machines set person --name Noor`,
	}, func(c *cobra.Command) {
		c.Flags().BoolVar(&b.Retired, "retired", false, "")
	}, func(*shop.State) {}, func() shop.Body {
		b.Name = s.name
		return &b
	})
}

func setShopCommand(env *Env) *cobra.Command {
	s := &setter{only: true}
	var b shop.ShopSet
	return s.command(env, &cobra.Command{
		Use: "shop",
		Example: `  hopperful machines set shop --most-dust 15% --most-metal 20mg/kg
  hopperful machines set shop --name "Lantern Yard" --currency EUR --electricity 0.33/kWh --room 19°C --humidity 48%RH --handling 75s`,
	}, func(c *cobra.Command) {
		c.Flags().StringVar(&b.Currency, "currency", "", "")
		quantityVar(c, &b.ElectricityPrice, "electricity", quantity.MoneyPerEnergy)
		quantityVar(c, &b.RoomTemperature, "room", quantity.Temperature)
		quantityVar(c, &b.RoomHumidity, "humidity", quantity.Humidity)
		quantityVar(c, &b.Handling, "handling", quantity.Duration)
		quantityVar(c, &b.MostDust, "most-dust", quantity.Share)
		quantityVar(c, &b.MostMetal, "most-metal", quantity.Share)
		quantityVar(c, &b.ChipShare, "chip-share", quantity.Share)
		quantityVar(c, &b.LeastStrength, "least-strength", quantity.Share)
		quantityVar(c, &b.MostPressure, "most-pressure", quantity.Pressure)
		quantityVar(c, &b.MostBlocked, "most-blocked", quantity.Share)
		quantityVar(c, &b.LeastSure, "least-sure", quantity.Share)
		c.Flags().BoolVar(&b.DecimalComma, "decimal-comma", false, "")
		c.Flags().StringVar(&b.Language, "language", "", "")
	}, func(state *shop.State) {
		b = state.Shop
	}, func() shop.Body {
		if s.name != "" {
			b.Name = s.name
		}
		return &b
	})
}
