package cli

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func setMillCommand(env *Env) *cobra.Command {
	s := &setter{}
	var b shop.MillSet
	m := &b.Mill
	var k shop.Control
	return s.command(env, &cobra.Command{
		Use:   "mill",
		Short: "Describe a mill as you know it",
		Long: `Describes a mill. Only the name is needed. --watts 10=640W says what the plug-in
meter showed at level 10 while grinding, --idle-watts the same with the mill
empty; both may be given several times.

Another screen, rotor or jar is a change from now on (or from --at): runs before
it keep what they were ground with. All else is better known, and was always so.
--means change or --means correction says it otherwise.`,
		Example: `  hopperful machines set mill --name Rattle --rated 1.8kW --chamber 1.1l --hole 2mm --open-share 20% --jar 300ml
  hopperful machines set mill --name Rattle --controller-levels 20 --watts 10=640W --watts 14=1.01kW --idle-watts 10=250W
  hopperful machines set mill --name Rattle --hole 1.5mm --note "the finer screen"
  hopperful machines set mill --name Rattle --hole 2.1mm --means correction --note "measured with a drill"
  hopperful machines set mill --name Rattle --noise unknown --lid-switch yes`,
	}, func(c *cobra.Command) {
		millFlags(c, m)
		controllerFlags(c, &k)
		wordVar(c, env, (*string)(&b.Means), "means", []string{string(shop.ChangedNow), string(shop.AlwaysSo)}, "what differs was changed now, or was always so")
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

func millFlags(c *cobra.Command, m *shop.Mill) {
	quantityVar(c, &m.RatedPower, "rated", quantity.Power, "the figure on the label: 1.8kW")
	quantityVar(c, &m.ContinuousPower, "continuous", quantity.Power, "what the motor may take all day")
	quantityVar(c, &m.Chamber, "chamber", quantity.Volume, "volume the charge tumbles in: 1.1l")
	quantityVar(c, &m.Inlet, "inlet", quantity.Length, "widest piece that goes in")
	quantityVar(c, &m.WallMass, "wall-mass", quantity.Mass, "pot, plate and lid that warm up together")
	c.Flags().Var(wordFlag{[]string{shop.Steel, shop.Stainless, shop.Aluminium, shop.CastIron, shop.OtherMetal}, &m.WallMetal},
		"wall-metal", "steel, stainless steel, aluminium, cast iron; empty: another")
	yesNoVar(c, &m.Painted, "painted", "painted or dark on the outside")
	quantityVar(c, &m.RotorDiameter, "rotor", quantity.Length, "blade, tip to tip")
	quantityVar(c, &m.RotorSpeed, "speed", quantity.Rotation, "at full power: 14000rpm")
	quantityVar(c, &m.RotorMass, "rotor-mass", quantity.Mass, "blades and what turns with them")
	quantityVar(c, &m.Screen.Hole, "hole", quantity.Length, "hole of the screen: 2mm")
	quantityVar(c, &m.Screen.OpenShare, "open-share", quantity.Share, "hole area over sheet area: 20%")
	quantityVar(c, &m.Jar, "jar", quantity.Volume, "container under the outlet: 300ml")
	quantityVar(c, &m.Noise, "noise", quantity.SoundLevel, "at your ear, if measured: 91dB(A)")
	place := (*string)(&m.Thermometer)
	c.Flags().Var(wordFlag{[]string{string(shop.OuterWall), string(shop.InCharge), string(shop.NoThermometer)}, place},
		"thermometer", "where temperatures are read: outer wall, in the charge; empty: nowhere")
	yesNoVar(c, &m.Magnet, "magnet", "a magnet at the outlet")
	yesNoVar(c, &m.LidSwitch, "lid-switch", "stops the rotor when the lid opens")
	yesNoVar(c, &m.Earth, "earth", "metal parts are earthed")
	yesNoVar(c, &m.ResidualCurrent, "rcd", "on a circuit with a residual-current device")
	c.Flags().BoolVar(&m.Retired, "retired", false, "no longer used")
}

func controllerFlags(c *cobra.Command, k *shop.Control) {
	c.Flags().IntVar(&k.Levels, "controller-levels", 0, "levels of the power controller; 0: none")
	quantityVar(c, &k.Continuous, "controller-continuous", quantity.Power, "what the controller may carry all day")
	c.Flags().Var(wattsFlag{&k.Watts}, "watts", "measured while grinding: LEVEL=POWER")
	c.Flags().Var(wattsFlag{&k.IdleWatts}, "idle-watts", "measured empty: LEVEL=POWER")
}

// wattsFlag collects what a meter showed at levels, one a use of the flag; a
// level said again is replaced.
type wattsFlag struct{ into *[]shop.LevelWatts }

func (f wattsFlag) Set(text string) error {
	level, power, ok := strings.Cut(text, "=")
	n, err := strconv.Atoi(strings.TrimSpace(level))
	if !ok || err != nil {
		return fmt.Errorf("%q is not of the form LEVEL=POWER, such as 10=640W", text)
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

// partNames are the parts of a mill that a description changed, as a person
// calls them.
func partNames(properties []string) []string {
	names := map[string]string{"screen.hole_m": "another screen", "screen.open_share": "another screen", "jar_m3": "another jar",
		"rotor_m": "another rotor", "rotor_rad_s": "another rotor speed", "rotor_kg": "another rotor"}
	var list []string
	for _, p := range properties {
		name, ok := names[p]
		if !ok {
			name = "another " + strings.TrimSuffix(strings.ReplaceAll(p, "_", " "), " m3")
		}
		if !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	return list
}
