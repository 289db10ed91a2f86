package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

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
			printShop(env, state)
			printMills(env, state)
			printOthers(env, state)
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
	name := s.Shop.Name
	if name == "" {
		name = "The shop has no name yet"
	}
	plain(env.Out, "%s", name)
	g := newGrid(env, "what", "value")
	show(g, "room temperature", quantity.Temperature, s.Shop.RoomTemperature)
	show(g, "room humidity", quantity.Humidity, s.Shop.RoomHumidity)
	show(g, "handling between runs", quantity.Duration, s.Shop.Handling)
	if p := s.Shop.ElectricityPrice; p != nil {
		price := figure.Exact("price", "electricity", quantity.MoneyPerEnergy, *p, figure.Entered)
		price.Currency = s.Shop.Currency
		g.row("electricity", price.Shown())
	} else {
		g.row("electricity", "unknown")
	}
	g.print()
	printThresholds(env, s)
}

// limitNames are the limits as a table names them.
var limitNames = map[shop.Limit]string{
	shop.MostDust: "most dust in what is to print", shop.MostMetal: "most metal left in it", shop.ChipShare: "share of the nozzle from which on a chip can block it",
	shop.LeastStrength: "strength a part must keep", shop.MostPressure: "pressure a head bears", shop.MostBlocked: "prints that may meet a chip",
	shop.LeastSure: "how sure of a polymer before it goes with others",
}

// printThresholds lists the thresholds of verdicts and whose they are.
func printThresholds(env *Env, s *shop.State) {
	heading(env, "Limits of verdicts")
	g := newGrid(env, "limit", "value", "whose")
	for _, l := range shop.Limits() {
		v, own := s.Shop.Limit(l.Limit)
		whose := "our default"
		if own {
			whose = "yours"
		}
		g.row(limitNames[l.Limit], l.Kind.Plain(v), whose)
	}
	g.print()
}

// show adds a line for a value that may be unknown.
func show(g *grid, name string, kind quantity.Kind, v *float64) {
	if v == nil {
		g.row(name, "unknown")
		return
	}
	g.row(name, kind.Show(*v))
}

func printMills(env *Env, s *shop.State) {
	for _, m := range s.Mills {
		heading(env, "Mill %s%s", m.Name, inUse(m.Retired))
		g := newGrid(env, "what", "value")
		show(g, "rated power", quantity.Power, m.RatedPower)
		show(g, "power it may take all day", quantity.Power, m.ContinuousPower)
		show(g, "chamber", quantity.Volume, m.Chamber)
		show(g, "inlet", quantity.Length, m.Inlet)
		show(g, "wall mass", quantity.Mass, m.WallMass)
		g.row("wall", orUnknown(m.WallMetal))
		g.row("painted", answerWord(m.Painted))
		show(g, "rotor", quantity.Length, m.RotorDiameter)
		show(g, "rotor speed", quantity.Rotation, m.RotorSpeed)
		show(g, "rotor mass", quantity.Mass, m.RotorMass)
		show(g, "screen hole", quantity.Length, m.Screen.Hole)
		show(g, "screen open share", quantity.Share, m.Screen.OpenShare)
		show(g, "jar", quantity.Volume, m.Jar)
		show(g, "noise at the ear", quantity.SoundLevel, m.Noise)
		g.row("thermometer", orUnknown(string(m.Thermometer)))
		g.row("magnet", answerWord(m.Magnet))
		g.row("lid switch", answerWord(m.LidSwitch))
		g.row("protective earth", answerWord(m.Earth))
		g.row("residual-current device", answerWord(m.ResidualCurrent))
		g.row("controller", controllerShown(m.Controller))
		g.row("ground so far", fmt.Sprintf("%s in %d runs", mass(m.Ground), len(m.Runs)))
		g.row("still inside", mass(m.Held))
		g.print()
	}
	if len(s.Mills) == 0 {
		plain(env.Out, "\nNo mill yet: hopperful machines set mill --name \"…\" --rated 1.8kW --chamber 1.1l")
	}
}

func controllerShown(k *shop.Control) string {
	if k == nil {
		return "none"
	}
	text := fmt.Sprintf("%d levels", k.Levels)
	if k.Continuous != nil {
		text += ", " + quantity.Power.Show(*k.Continuous) + " all day"
	}
	for _, w := range k.Watts {
		text += fmt.Sprintf(", %d: %s", w.Level, quantity.Power.Show(w.Watts))
	}
	return text
}

func printOthers(env *Env, s *shop.State) {
	if len(s.Scales) > 0 {
		heading(env, "Scales")
		g := newGrid(env, "name", ">one digit", ">carries")
		for _, x := range s.Scales {
			g.row(x.Name+inUse(x.Retired), mass(x.Resolution), shownIf(quantity.Mass, x.Capacity))
		}
		g.print()
	}
	if len(s.Printers) > 0 {
		heading(env, "Printers")
		g := newGrid(env, "name", ">nozzle", ">screw", ">heaters", ">hopper", ">a turn gives", ">largest grain")
		for _, p := range s.Printers {
			g.row(p.Name+inUse(p.Retired), shownIf(quantity.Length, p.Nozzle), shownIf(quantity.Length, p.ScrewBore),
				shownIf(quantity.Power, p.HeaterWatt), shownIf(quantity.Volume, p.Hopper), shownIf(quantity.Volume, p.PerTurn),
				shownIf(quantity.Length, p.LargestIn))
		}
		g.print()
	}
	if len(s.Dryers) > 0 {
		heading(env, "Dryers")
		g := newGrid(env, "name", "kind", ">hottest", ">bed", ">air", ">dew point", ">box keeps")
		for _, d := range s.Dryers {
			g.row(d.Name+inUse(d.Retired), string(d.Way), shownIf(quantity.Temperature, d.Temperature), shownIf(quantity.Length, d.Bed),
				shownIf(quantity.VolumeFlow, d.Flow), shownIf(quantity.Temperature, d.DewPoint), shownIf(quantity.Humidity, d.Humidity))
		}
		g.print()
	}
	if len(s.People) > 0 {
		var names []string
		for _, p := range s.People {
			names = append(names, p.Name+inUse(p.Retired))
		}
		heading(env, "People: %s", strings.Join(names, ", "))
	}
}

func shownIf(kind quantity.Kind, v *float64) string {
	if v == nil {
		return "unknown"
	}
	return kind.Show(*v)
}

func orUnknown(word string) string {
	if word == "" {
		return "unknown"
	}
	return word
}

func inUse(retired bool) string {
	if retired {
		return " (retired)"
	}
	return ""
}
