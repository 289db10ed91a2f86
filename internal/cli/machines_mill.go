package cli

import (
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/quantity"
	"hopperful/shop"
)

func setMillCommand(env *Env) *cobra.Command {
	s := &setter{}
	var b shop.MillSet
	m := &b.Mill
	var k shop.Control
	return s.command(env, &cobra.Command{
		Use: "mill",
		Example: `  hopperful machines set mill --name Rattle --rated 1.8kW --chamber 1.1l --hole 2mm --open-share 20% --jar 300ml
  hopperful machines set mill --name Rattle --controller-levels 20 --watts 10=640W --watts 14=1.01kW --idle-watts 10=250W
  hopperful machines set mill --name Rattle --hole 1.5mm --note "the finer screen"
  hopperful machines set mill --name Rattle --hole 2.1mm --means correction --note "measured with a drill"
  hopperful machines set mill --name Rattle --noise unknown --lid-switch yes`,
	}, func(c *cobra.Command) {
		millFlags(c, env, s, &b, &k)
	}, func(state *shop.State) {
		if known, ok := state.Mill(s.name); ok {
			*m = known.Mill
			if m.Controller != nil {
				k = shop.Control{Continuous: m.Controller.Continuous, Levels: m.Controller.Levels,
					Watts: slices.Clone(m.Controller.Watts), IdleWatts: slices.Clone(m.Controller.IdleWatts)}
			}
		}
	}, func() shop.Body {
		m.Name = s.name
		m.Controller = nil
		if k.Levels > 0 || k.Continuous != nil || len(k.Watts)+len(k.IdleWatts) > 0 {
			m.Controller = &k
		}
		return &b
	})
}

// millFlags adds the flags of a mill; --name is added with those every machine has.
func millFlags(c *cobra.Command, env *Env, s *setter, b *shop.MillSet, k *shop.Control) {
	m := &b.Mill
	asks(c, env, "mill_set", map[string]any{
		"mill.name": &s.name, "mill.rated_w": &m.RatedPower, "mill.continuous_w": &m.ContinuousPower, "mill.chamber_m3": &m.Chamber, "mill.inlet_m": &m.Inlet,
		"mill.wall_kg": &m.WallMass, "mill.wall_metal": &m.WallMetal, "mill.painted": &m.Painted,
		"mill.rotor_m": &m.RotorDiameter, "mill.rotor_rad_s": &m.RotorSpeed, "mill.rotor_kg": &m.RotorMass,
		"mill.screen.hole_m": &m.Screen.Hole, "mill.screen.open_share": &m.Screen.OpenShare, "mill.jar_m3": &m.Jar,
		"mill.noise_db": &m.Noise, "mill.thermometer": (*string)(&m.Thermometer), "mill.magnet": &m.Magnet, "mill.lid_switch": &m.LidSwitch,
		"mill.protective_earth": &m.Earth, "mill.residual_current": &m.ResidualCurrent, "mill.retired": &m.Retired,
		"mill.controller.levels": &k.Levels, "mill.controller.continuous_w": &k.Continuous, "mill.controller.watts": &k.Watts, "mill.controller.idle_watts": &k.IdleWatts,
		"means": (*string)(&b.Means),
	})
}

// wattsFlag collects what a meter showed at levels, one a use of the flag; a
// level said again is replaced.
type wattsFlag struct{ into *[]shop.LevelWatts }

func (f wattsFlag) Set(text string) error {
	level, power, ok := strings.Cut(text, "=")
	n, err := strconv.Atoi(strings.TrimSpace(level))
	if !ok || err != nil {
		return cannotBe(fact.Say("cli.not_level_power", fact.Name("text", text)))
	}
	w, err := quantity.Power.Parse(power)
	if err != nil {
		return err
	}
	list := slices.DeleteFunc(*f.into, func(x shop.LevelWatts) bool { return x.Level == n })
	list = append(list, shop.LevelWatts{Level: n, Watts: w})
	slices.SortFunc(list, func(a, b shop.LevelWatts) int { return a.Level - b.Level })
	*f.into = list
	return nil
}

func (f wattsFlag) String() string { return "" }

func (f wattsFlag) Type() string { return "level=power" }

// partCodes are the parts of a mill whose change begins something new, by the
// property that tells it.
var partCodes = map[string]string{"screen.hole_m": "cli.another_screen", "screen.open_share": "cli.another_screen", "jar_m3": "cli.another_jar",
	"rotor_m": "cli.another_rotor", "rotor_rad_s": "cli.another_rotor_speed", "rotor_kg": "cli.another_rotor"}

// partNames are the parts that changed, each once.
func partNames(properties []string) []fact.Saying {
	var list []fact.Saying
	for _, p := range properties {
		part := fact.Say("cli.another", fact.Name("part", p))
		if code, ok := partCodes[p]; ok {
			part = fact.Saying{Code: code}
		}
		if !slices.ContainsFunc(list, func(o fact.Saying) bool { return o.Code == part.Code }) {
			list = append(list, part)
		}
	}
	return list
}
