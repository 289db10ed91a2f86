package cli

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/figure"
	"hopperful/quantity"
	"hopperful/shop"
)

func machinesCommand(env *Env) *cobra.Command {
	c := &cobra.Command{
		Use: "machines",
		Example: `  hopperful machines
  hopperful machines --json`,
		Args: unknownCommand,
		RunE: func(c *cobra.Command, _ []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			if asJSON(c) {
				return writeJSON(env, machinesOut(state))
			}
			speaks(env, state)
			if printShop(env, state); wantsFull(c) {
				printThresholds(env, state)
				printMills(env, state)
			} else {
				listMills(env, state)
			}
			printOthers(env, state)
			if !wantsFull(c) {
				plain(env.Out, "\n%s", env.speaks().Line("print.rest"))
			}
			return nil
		},
	}
	shopFlag(c)
	c.AddCommand(machinesSetCommand(env))
	return c
}

// millJSON is a mill and what its records say.
type millJSON struct {
	shop.Mill
	Held   float64         `json:"held_kg"`
	Ground float64         `json:"ground_kg"`
	Runs   []shop.RecordID `json:"runs"`
}

type machinesJSON struct {
	Shop     shop.ShopSet     `json:"shop"`
	Mills    []millJSON       `json:"mills"`
	Scales   []shop.Scale     `json:"scales"`
	Printers []shop.Printer   `json:"printers"`
	Dryers   []shop.Dryer     `json:"dryers"`
	People   []shop.PersonSet `json:"people"`
}

func machinesOut(s *shop.State) machinesJSON {
	out := machinesJSON{Shop: s.Shop, Mills: []millJSON{}, Scales: append([]shop.Scale{}, s.Scales...),
		Printers: append([]shop.Printer{}, s.Printers...), Dryers: append([]shop.Dryer{}, s.Dryers...), People: append([]shop.PersonSet{}, s.People...)}
	for _, m := range s.Mills {
		out.Mills = append(out.Mills, millJSON{m.Mill, m.Held, m.Ground, append([]shop.RecordID{}, m.Runs...)})
	}
	return out
}

func printShop(env *Env, s *shop.State) {
	plain(env.Out, "%s", cmp.Or(s.Shop.Name, env.speaks().Line("cli.shop_without_name")))
	g := newGrid(env, "cell.what", "cell.value")
	show(g, "cell.room_temperature", quantity.Temperature, s.Shop.RoomTemperature)
	show(g, "cell.room_humidity", quantity.Humidity, s.Shop.RoomHumidity)
	show(g, "cell.handling_between_runs", quantity.Duration, s.Shop.Handling)
	if p := s.Shop.ElectricityPrice; p != nil {
		price := figure.Exact("price", "electricity", quantity.MoneyPerEnergy, *p, figure.Entered)
		price.Currency = s.Shop.Currency
		g.row(env.speaks().Word("cell.electricity"), env.speaks().Number(price.Shown()))
	} else {
		g.row(env.speaks().Word("cell.electricity"), env.speaks().Line("cell.unknown"))
	}
	g.print()
}

// limitNames are the limits as a table names them.
var limitNames = map[shop.Limit]string{
	shop.MostDust: "cell.most_dust_in_what_is", shop.MostMetal: "cell.most_metal_left_in_it", shop.ChipShare: "cell.share_of_the_nozzle_from",
	shop.LeastStrength: "cell.strength_a_part_must_keep", shop.MostPressure: "cell.pressure_a_head_bears", shop.MostBlocked: "cell.prints_that_may_meet_a",
	shop.LeastSure: "cell.how_sure_of_a_polymer",
}

// printThresholds lists the thresholds of verdicts and whose they are.
func printThresholds(env *Env, s *shop.State) {
	p := env.speaks()
	heading(env, "%s", p.Line("cli.limits_of_verdicts"))
	g := newGrid(env, "cell.limit", "cell.value", "cell.whose")
	for _, l := range shop.Limits() {
		v, own := s.Shop.Limit(l.Limit)
		whose := p.Line("cell.our_default")
		if own {
			whose = p.Line("cell.yours")
		}
		g.row(p.Word(limitNames[l.Limit]), p.Number(l.Kind.Plain(v)), whose)
	}
	g.print()
}

// show adds a line for a value that may be unknown.
func show(g *grid, name string, kind quantity.Kind, v *float64) {
	p := g.env.speaks()
	if v == nil {
		g.row(p.Word(name), p.Line("cell.unknown"))
		return
	}
	g.row(p.Word(name), p.Number(kind.Show(*v)))
}

// listMills is a line a mill: what a person at it needs to know.
func listMills(env *Env, s *shop.State) {
	if len(s.Mills) == 0 {
		plain(env.Out, "\n%s", env.speaks().Line("cli.mill_none"))
		return
	}
	heading(env, "%s", env.speaks().Line("cli.mills"))
	g := newGrid(env, "cell.name", ">cell.rated_power", ">cell.chamber", ">cell.screen_hole", ">cell.ground_so_far", ">cell.still_inside")
	for _, m := range s.Mills {
		g.row(calledNow(env, m.Name, m.Retired), shownIf(env, quantity.Power, m.RatedPower), shownIf(env, quantity.Volume, m.Chamber),
			shownIf(env, quantity.Length, m.Screen.Hole), env.speaks().Number(mass(m.Ground)), env.speaks().Number(mass(m.Held)))
	}
	g.print()
}

func printMills(env *Env, s *shop.State) {
	for _, m := range s.Mills {
		heading(env, "%s", env.speaks().Line("cli.mill", fact.Name("name", calledNow(env, m.Name, m.Retired))))
		g := newGrid(env, "cell.what", "cell.value")
		show(g, "cell.rated_power", quantity.Power, m.RatedPower)
		show(g, "cell.power_it_may_take_all", quantity.Power, m.ContinuousPower)
		show(g, "cell.chamber", quantity.Volume, m.Chamber)
		show(g, "cell.inlet", quantity.Length, m.Inlet)
		show(g, "cell.wall_mass", quantity.Mass, m.WallMass)
		g.row(env.speaks().Word("cell.wall"), answerWord(env, m.WallMetal))
		g.row(env.speaks().Word("cell.painted"), answerWord(env, string(m.Painted)))
		show(g, "cell.rotor", quantity.Length, m.RotorDiameter)
		show(g, "cell.rotor_speed", quantity.Rotation, m.RotorSpeed)
		show(g, "cell.rotor_mass", quantity.Mass, m.RotorMass)
		show(g, "cell.screen_hole", quantity.Length, m.Screen.Hole)
		show(g, "cell.screen_open_share", quantity.Share, m.Screen.OpenShare)
		show(g, "cell.jar", quantity.Volume, m.Jar)
		show(g, "cell.noise_at_the_ear", quantity.SoundLevel, m.Noise)
		g.row(env.speaks().Word("cell.thermometer"), answerWord(env, string(m.Thermometer)))
		g.row(env.speaks().Word("cell.magnet"), answerWord(env, string(m.Magnet)))
		g.row(env.speaks().Word("cell.lid_switch"), answerWord(env, string(m.LidSwitch)))
		g.row(env.speaks().Word("cell.protective_earth"), answerWord(env, string(m.Earth)))
		g.row(env.speaks().Word("cell.residual_current_device"), answerWord(env, string(m.ResidualCurrent)))
		g.row(env.speaks().Word("cell.controller"), controllerShown(env, m.Controller))
		g.row(env.speaks().Word("cell.ground_so_far"), env.speaks().Line("cell.in_runs", fact.Weighed("mass", m.Ground), fact.Count("n", len(m.Runs))))
		g.row(env.speaks().Word("cell.still_inside"), env.speaks().Number(mass(m.Held)))
		g.print()
	}
	if len(s.Mills) == 0 {
		plain(env.Out, "\n%s", env.speaks().Line("cli.mill_none"))
	}
}

func controllerShown(env *Env, k *shop.Control) string {
	p := env.speaks()
	if k == nil {
		return p.Line("cell.none")
	}
	parts := []string{p.Line("cell.levels", fact.Count("n", k.Levels))}
	if k.Continuous != nil {
		parts = append(parts, p.Line("cell.all_day", fact.Set("power", quantity.Power, *k.Continuous)))
	}
	for _, w := range k.Watts {
		parts = append(parts, fmt.Sprintf("%d: %s", w.Level, p.Number(quantity.Power.Show(w.Watts))))
	}
	return strings.Join(parts, ", ")
}

func printOthers(env *Env, s *shop.State) {
	if len(s.Scales) > 0 {
		heading(env, "%s", env.speaks().Line("cli.scales"))
		g := newGrid(env, "cell.name", ">cell.one_digit", ">cell.carries")
		for _, x := range s.Scales {
			g.row(calledNow(env, x.Name, x.Retired), env.speaks().Number(mass(x.Resolution)), shownIf(env, quantity.Mass, x.Capacity))
		}
		g.print()
	}
	if len(s.Printers) > 0 {
		heading(env, "%s", env.speaks().Line("cli.printers"))
		g := newGrid(env, "cell.name", ">cell.nozzle", ">cell.screw", ">cell.heaters", ">cell.hopper", ">cell.a_turn_gives", ">cell.largest_grain")
		for _, p := range s.Printers {
			g.row(calledNow(env, p.Name, p.Retired), shownIf(env, quantity.Length, p.Nozzle), shownIf(env, quantity.Length, p.ScrewBore),
				shownIf(env, quantity.Power, p.HeaterWatt), shownIf(env, quantity.Volume, p.Hopper), shownIf(env, quantity.Volume, p.PerTurn),
				shownIf(env, quantity.Length, p.LargestIn))
		}
		g.print()
	}
	if len(s.Dryers) > 0 {
		heading(env, "%s", env.speaks().Line("cli.dryers"))
		g := newGrid(env, "cell.name", "cell.kind", ">cell.hottest", ">cell.bed", ">cell.air", ">cell.dew_point", ">cell.box_keeps")
		for _, d := range s.Dryers {
			g.row(calledNow(env, d.Name, d.Retired), answerWord(env, string(d.Way)), shownIf(env, quantity.Temperature, d.Temperature), shownIf(env, quantity.Length, d.Bed),
				shownIf(env, quantity.VolumeFlow, d.Flow), shownIf(env, quantity.Temperature, d.DewPoint), shownIf(env, quantity.Humidity, d.Humidity))
		}
		g.print()
	}
	if len(s.People) > 0 {
		var names []string
		for _, p := range s.People {
			names = append(names, calledNow(env, p.Name, p.Retired))
		}
		heading(env, "%s", env.speaks().Line("cli.people", fact.Name("names", strings.Join(names, ", "))))
	}
}

func shownIf(env *Env, kind quantity.Kind, v *float64) string {
	if v == nil {
		return env.speaks().Line("cell.unknown")
	}
	return env.speaks().Number(kind.Show(*v))
}

// calledNow is a name, and whether it is no longer in use.
func calledNow(env *Env, name string, retired bool) string {
	if retired {
		return env.speaks().Line("cell.retired", fact.Name("name", name))
	}
	return name
}
