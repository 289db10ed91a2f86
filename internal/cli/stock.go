package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/internal/exchange"
	"hopperful/internal/say"
	"hopperful/plan/traceability"
	"hopperful/plan/upkeep"
	"hopperful/quantity"
	"hopperful/shop"
)

func stockCommand(env *Env) *cobra.Command {
	var all bool
	var class string
	c := &cobra.Command{
		Use: "stock [LOT]",
		Example: `  hopperful stock
  hopperful stock R1
  hopperful stock --class scrap
  hopperful stock --all --json`,
		Args: takes(0, 1, "takes.at_most_one_lot_s"),
		RunE: func(c *cobra.Command, args []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			if len(args) == 1 {
				return showLot(c, env, state, args[0])
			}
			return showStock(c, env, state, all, shop.Class(class))
		},
	}
	c.Flags().BoolVar(&all, "all", false, "")
	c.Flags().Var(wordFlag{classWords, &class}, "class", "")
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}

// classWords are the classes a lot can have.
var classWords = []string{string(shop.Scrap), string(shop.Regrind), string(shop.Virgin), string(shop.Blend), string(shop.Print)}

func showStock(c *cobra.Command, env *Env, state *shop.State, all bool, class shop.Class) error {
	var lots []*shop.Lot
	prints := 0 // on hand, but no material to work with until one has failed and is sorted into scrap
	for _, id := range state.Order {
		l := state.Lots.At(id)
		switch {
		case class != "" && l.Class != class, !all && l.Mass <= 0:
		case !all && class == "" && l.Class == shop.Print:
			prints++
		default:
			lots = append(lots, l)
		}
	}
	if asJSON(c) {
		out := struct {
			Lots []exchange.Lot `json:"lots"`
		}{[]exchange.Lot{}}
		for _, l := range lots {
			out.Lots = append(out.Lots, exchange.LotOf(env.speaks(), l))
		}
		return writeJSON(env, out)
	}
	if len(lots) == 0 {
		plain(env.Out, "%s", env.speaks().Line("cli.stock_empty"))
		plain(env.Out, "  hopperful take-in 1.2kg --polymer PLA --colour black --name \"failed brackets\"")
		return nil
	}
	p, marked := speaks(env, state), map[shop.LotID]string{}
	for _, x := range upkeep.Suspects(state) {
		if x.Open() {
			marked[x.Lot] = p.Say(x.Mark())
		}
	}
	g := newGrid(env, "cell.lot", "cell.what", "cell.material", ">cell.on_hand", "cell.note")
	for _, l := range lots {
		notes := lotNotes(env.speaks(), l)
		if m := marked[l.ID]; m != "" {
			notes = append(notes, m)
		}
		g.row(string(l.ID), classAnd(p, l), lotMaterial(p, l), p.Number(mass(l.Mass)), strings.Join(notes, "; "))
	}
	g.fold(c, mostLines-2, false)
	if prints > 0 {
		plain(env.Out, "\n%s", env.speaks().Line("cli.prints_not_listed", fact.Count("n", prints)))
	}
	return nil
}

// classAnd is the lot's class and the owner's words for it.
func classAnd(p *say.Printer, l *shop.Lot) string {
	class := p.Word("cell." + string(l.Class))
	if l.Name == "" {
		return class
	}
	return class + ": " + l.Name
}

// lotMaterial names the lot's material and how sure that is.
func lotMaterial(p *say.Printer, l *shop.Lot) string {
	text := material(p, l.Polymer, l.Colour)
	if l.Sure != nil && l.Polymer != "" && *l.Sure < answer.SureShare {
		text += " (" + p.Line("cell.sure", fact.Set("share", quantity.Share, *l.Sure)) + ")"
	}
	return text
}

// lotNotes are the things to know before grinding a lot.
func lotNotes(p *say.Printer, l *shop.Lot) []string {
	var notes []string
	if bar := l.Bar(); bar != nil {
		notes = append(notes, p.Say(bar.Because()))
	}
	if l.Metal != "" {
		notes = append(notes, p.Line("cell.metal_seen", fact.Name("metal", l.Metal)))
	}
	if l.Pieces.Largest != nil && l.Class == shop.Scrap {
		notes = append(notes, p.Line("cell.pieces_up_to", fact.Set("largest", quantity.Length, *l.Pieces.Largest)))
	}
	return notes
}

func showLot(c *cobra.Command, env *Env, state *shop.State, label string) error {
	id, err := shop.ParseLot(label)
	if err != nil {
		return err
	}
	l, ok := state.Lot(id)
	if !ok {
		return shop.NoLot("", id)
	}
	if asJSON(c) {
		return writeJSON(env, struct {
			Lot     exchange.Lot `json:"lot"`
			Records []recordJSON `json:"records"`
		}{exchange.LotOf(env.speaks(), l), recordsOf(env.speaks(), state, l)})
	}
	p := speaks(env, state)
	plain(env.Out, "%s", p.Line("cli.on_hand", fact.Name("id", string(l.ID)), fact.Name("class", classAnd(p, l)), fact.Name("material", lotMaterial(p, l)), fact.Weighed("mass", l.Mass)))
	for _, n := range lotNotes(speaks(env, state), l) {
		plain(env.Out, "    %s", n)
	}
	for _, x := range upkeep.SuspectOf(state, id) {
		plain(env.Out, "    %s", speaks(env, state).Say(x.Mark()))
	}
	if age, err := traceability.AgeOf(state, id); err == nil {
		plain(env.Out, "    %s", env.speaks().Say(age.Head.Saying))
	}
	if seen, err := traceability.ColourOf(state, id); err == nil && seen.Mixed != nil {
		plain(env.Out, "    %s", env.speaks().Say(seen.Head.Saying))
	}
	printEdges(c, env, p.Line("cli.made_from"), l.Parents)
	printEdges(c, env, p.Line("cli.went_to"), l.Children)
	heading(env, "%s", env.speaks().Line("cli.records"))
	g := newGrid(env, ">cell.number", "cell.when", "cell.who", "cell.what")
	for _, r := range recordsOf(speaks(env, state), state, l) {
		g.row(fmt.Sprint(r.ID), shown(r.At), r.By, r.Says)
	}
	g.fold(c, mostLines-2*edgeLines-11, true)
	return nil
}

// edgeLines is how long a list of where a lot came from, or went to, is on a terminal.
const edgeLines = 8

func printEdges(c *cobra.Command, env *Env, title string, edges []shop.Edge) {
	if len(edges) == 0 {
		return
	}
	heading(env, "%s", title)
	g := newGrid(env, "cell.lot", ">cell.mass", ">cell.record")
	for _, e := range edges {
		g.row(string(e.Lot), env.speaks().Number(mass(e.Mass)), fmt.Sprint(e.Record))
	}
	g.fold(c, edgeLines, true)
}

// recordsOf are the records about a lot, as they stand.
func recordsOf(p *say.Printer, state *shop.State, l *shop.Lot) []recordJSON {
	out := []recordJSON{}
	for _, id := range l.Records {
		if r, ok := state.Record(id); ok {
			out = append(out, recordOut(p, r))
		}
	}
	return out
}
