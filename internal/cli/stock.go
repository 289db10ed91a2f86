package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/quantity"
	"hopperful/shop"
)

func stockCommand(env *Env) *cobra.Command {
	var all bool
	c := &cobra.Command{
		Use:   "stock [LOT]",
		Short: "The lots on hand, or one lot and where it came from",
		Long: `Lists the lots that have something in them: label, what it is, how much.
With a label, shows that lot, what it was made from and what became of it.`,
		Example: `  hopperful stock
  hopperful stock R1
  hopperful stock --all --json`,
		Args: takes(0, 1, "at most one lot's label"),
		RunE: func(c *cobra.Command, args []string) error {
			state, err := readShop(c, env)
			if err != nil {
				return err
			}
			if len(args) == 1 {
				return showLot(c, env, state, args[0])
			}
			return showStock(c, env, state, all)
		},
	}
	c.Flags().BoolVar(&all, "all", false, "also the lots that are used up")
	shopFlag(c)
	completes(c, env, lotsOnHand, cobra.ShellCompDirectiveNoFileComp)
	return c
}

func showStock(c *cobra.Command, env *Env, state *shop.State, all bool) error {
	var lots []*shop.Lot
	for _, id := range state.Order {
		if l := state.Lots[id]; all || l.Mass > 0 {
			lots = append(lots, l)
		}
	}
	if asJSON(c) {
		out := struct {
			Lots []lotJSON `json:"lots"`
		}{[]lotJSON{}}
		for _, l := range lots {
			out.Lots = append(out.Lots, lotOut(l))
		}
		return writeJSON(env, out)
	}
	if len(lots) == 0 {
		plain(env.Out, "Nothing on hand. Weigh a bin and write it down:")
		plain(env.Out, "  hopperful take-in 1.2kg --polymer PLA --colour black --name \"failed brackets\"")
		return nil
	}
	g := newGrid(env, "lot", "what", "material", ">on hand", "note")
	for _, l := range lots {
		g.row(string(l.ID), classAnd(l), lotMaterial(l), mass(l.Mass), strings.Join(lotNotes(l), "; "))
	}
	g.print()
	return nil
}

// classAnd is the lot's class and the owner's words for it.
func classAnd(l *shop.Lot) string {
	if l.Name == "" {
		return string(l.Class)
	}
	return string(l.Class) + ": " + l.Name
}

// lotMaterial names the lot's material and how sure that is.
func lotMaterial(l *shop.Lot) string {
	text := material(l.Polymer, l.Colour)
	if l.Sure != nil && l.Polymer != "" && *l.Sure < 0.9 {
		text += " (" + quantity.Share.Show(*l.Sure) + " sure)"
	}
	return text
}

// lotNotes are the things to know before grinding a lot.
func lotNotes(l *shop.Lot) []string {
	var notes []string
	if l.Halogen == shop.Yes {
		notes = append(notes, "may hold chlorine or flame retardant")
	}
	if l.Metal != "" {
		notes = append(notes, "metal: "+l.Metal)
	}
	if l.Pieces.Largest != nil && l.Class == shop.Scrap {
		notes = append(notes, "pieces up to "+quantity.Length.Show(*l.Pieces.Largest))
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
		return &failure{say: fmt.Sprintf("There is no lot %s.", id), hint: "hopperful stock --all lists the lots."}
	}
	if asJSON(c) {
		return writeJSON(env, struct {
			Lot     lotJSON      `json:"lot"`
			Records []recordJSON `json:"records"`
		}{lotOut(l), recordsOf(state, l)})
	}
	plain(env.Out, "%s  %s, %s, %s on hand", l.ID, classAnd(l), lotMaterial(l), mass(l.Mass))
	for _, n := range lotNotes(l) {
		plain(env.Out, "    %s", n)
	}
	printEdges(env, "Made from", l.Parents)
	printEdges(env, "Went to", l.Children)
	heading(env, "Records")
	g := newGrid(env, ">no.", "when", "who", "what")
	for _, r := range recordsOf(state, l) {
		g.row(fmt.Sprint(r.ID), shown(r.At), r.By, r.Says)
	}
	g.print()
	return nil
}

func printEdges(env *Env, title string, edges []shop.Edge) {
	if len(edges) == 0 {
		return
	}
	heading(env, "%s", title)
	g := newGrid(env, "lot", ">mass", ">record")
	for _, e := range edges {
		g.row(string(e.Lot), mass(e.Mass), fmt.Sprint(e.Record))
	}
	g.print()
}

// recordsOf are the records about a lot, as they stand.
func recordsOf(state *shop.State, l *shop.Lot) []recordJSON {
	out := []recordJSON{}
	for _, id := range l.Records {
		if r, ok := state.Record(id); ok {
			out = append(out, recordOut(r))
		}
	}
	return out
}
