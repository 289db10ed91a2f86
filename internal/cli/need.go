package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/figure"
	"hopperful/plan/eats"
	"hopperful/quantity"
	"hopperful/shop"
)

func needCommand(env *Env) *cobra.Command {
	var reading readingFlags
	var save, done string
	var layers bool
	c := &cobra.Command{
		Use:   "need [FILE|MASS|-]...",
		Short: "How much plastic a print eats: from G-code, STL, 3MF or a mass",
		Long: `Reads what a print eats. G-code gives volume, time and flow; a mesh gives volume,
solid or with --wall and --infill. With a polymer, also the mass. "-" reads
standard input. Without anything, lists the saved needs.`,
		Example: `  hopperful need vase.gcode --polymer PLA
  hopperful need wedge.stl --polymer PETG --wall 1.2mm --infill 20%
  hopperful need vase.gcode 120g --polymer PLA --json
  hopperful need 240g --polymer PETG --colour clear --save "rain cover"
  hopperful need 90g --polymer PLA --rgb "#808080" --save "grey hook"
  hopperful need`,
		RunE: func(c *cobra.Command, args []string) error {
			if done != "" {
				return endNeed(c, env, done)
			}
			if len(args) == 0 {
				return listNeeds(c, env)
			}
			if save != "" && len(args) != 1 {
				return usagef(c, "--save names one need; %d were given.", len(args))
			}
			return showNeeds(c, env, &reading, args, save, layers)
		},
	}
	reading.flags(c)
	c.Flags().StringVar(&reading.rgb, "rgb", "", "what it shall look like, as #rrggbb: a blend for it is held to that")
	c.Flags().StringVar(&save, "save", "", "keep it in the shop under this name")
	c.Flags().StringVar(&done, "done", "", "mark the saved need of this name as printed or given up")
	c.Flags().BoolVar(&layers, "layers", false, "G-code: the table of layers")
	shopFlag(c)
	completesFlag(c, env, "done", openNeeds)
	completesFlag(c, env, "polymer", knownMaterials)
	return c
}

// needJSON is a need as scripts read it.
type needJSON struct {
	Name     string                   `json:"name"`
	From     string                   `json:"from"`
	File     string                   `json:"file,omitempty"`
	Polymer  string                   `json:"polymer"`
	Colour   string                   `json:"colour"`
	RGB      string                   `json:"rgb,omitempty"`
	Taken    string                   `json:"taken"`
	Done     bool                     `json:"done"`
	Figures  map[string]figure.Figure `json:"figures"`
	Layers   []layerJSON              `json:"layers,omitempty"`
	Tools    []toolJSON               `json:"tools,omitempty"`
	Mesh     *meshJSON                `json:"mesh,omitempty"`
	Warnings []string                 `json:"warnings"`
}

type layerJSON struct {
	Z      float64 `json:"z_m"`
	Volume float64 `json:"volume_m3"`
	Time   float64 `json:"time_s"`
	Peak   float64 `json:"peak_flow_m3_s"`
	Moves  int64   `json:"moves"`
}

type toolJSON struct {
	Number int     `json:"number"`
	Volume float64 `json:"volume_m3"`
	Time   float64 `json:"time_s"`
}

type meshJSON struct {
	Facets    int        `json:"facets"`
	OpenEdges int        `json:"open_edges"`
	Closed    bool       `json:"closed"`
	Volume    float64    `json:"volume_m3"`
	Area      float64    `json:"area_m2"`
	Size      [3]float64 `json:"size_m"`
}

func needOut(f eats.Found, figures []figure.Figure, layers bool) needJSON {
	n := f.Need
	out := needJSON{Name: n.Name, From: n.From, File: n.File, Polymer: n.Polymer, Colour: n.Colour, RGB: n.RGB, Taken: n.Taken, Done: n.Done,
		Figures: map[string]figure.Figure{}, Warnings: append([]string{}, f.Warnings...)}
	for _, x := range figures {
		out.Figures[x.Key] = x
	}
	if f.Path != nil {
		for _, t := range f.Path.Tools {
			out.Tools = append(out.Tools, toolJSON{t.Number, t.Volume, t.Time})
		}
		if layers {
			for _, l := range f.Path.Layers {
				out.Layers = append(out.Layers, layerJSON{l.Z, l.Volume, l.Time, l.Peak, l.Moves})
			}
		}
	}
	if s := f.Solid; s != nil {
		out.Mesh = &meshJSON{s.Facets, s.OpenEdges, s.Closed, s.Volume, s.Area, s.Size()}
	}
	return out
}

func showNeeds(c *cobra.Command, env *Env, reading *readingFlags, words []string, save string, layers bool) error {
	state, err := readShopIfAny(c, env)
	if err != nil {
		return err
	}
	table, err := state.Table()
	if err != nil {
		return err
	}
	needs := []needJSON{}
	var masses []figure.Figure
	var refused []unread
	for _, w := range words {
		found, err := reading.find(c, env, state, w)
		if err != nil {
			if len(words) == 1 || c.Context().Err() != nil {
				return err
			}
			refused = append(refused, unread{w, err})
			continue
		}
		if save != "" {
			found.Need.Name = save
		}
		figures, err := eats.Of(table, found.Need)
		if err != nil {
			return err
		}
		out := needOut(found, figures, layers)
		if m, ok := out.Figures["mass"]; ok {
			masses = append(masses, m)
		}
		needs = append(needs, out)
		if !asJSON(c) {
			if len(needs) > 1 {
				plain(env.Out, "")
			}
			printNeed(env, out, figures, layers)
		}
		if save != "" {
			if err := saveNeed(c, env, found.Need); err != nil {
				return err
			}
		}
	}
	switch {
	case len(refused) == 0:
		return printTotal(c, env, needs, masses, nil)
	case len(needs) == 0:
		return refused[0].err
	}
	return errors.Join(printTotal(c, env, needs, nil, refused), &partly{refused})
}

// printTotal ends the answer: the sum of several masses, or the JSON object. There
// is no sum where one mass is not known or one file was not read.
func printTotal(c *cobra.Command, env *Env, needs []needJSON, masses []figure.Figure, refused []unread) error {
	var total *figure.Figure
	if len(masses) == len(needs) && len(needs) > 0 {
		sum := eats.Together(masses)
		total = &sum
	}
	if asJSON(c) {
		var not []refusal
		for _, u := range refused {
			not = append(not, u.refusal(env))
		}
		return writeJSON(env, struct {
			Needs   []needJSON     `json:"needs"`
			Total   *figure.Figure `json:"total,omitempty"`
			Refused []refusal      `json:"refused,omitempty"`
		}{needs, total, not})
	}
	if len(needs) > 1 && total != nil {
		heading(env, "Together: %s", withRange(*total))
	}
	return nil
}

func printNeed(env *Env, n needJSON, figures []figure.Figure, layers bool) {
	plain(env.Out, "%s (%s)", n.Name, n.From)
	if n.Taken != "" && n.From != "typed" {
		plain(env.Out, "%s", sentence(strings.ToUpper(n.Taken[:1])+n.Taken[1:]))
	}
	printFigures(env, figures)
	if n.Polymer == "" && n.Figures["volume"].Key != "" {
		plain(env.Out, "--polymer PLA (or another) gives the mass.")
	}
	if n.Mesh != nil && !n.Mesh.Closed {
		plain(env.Out, "The mesh has %d open edges: its volume is an estimate.", n.Mesh.OpenEdges)
	}
	for _, w := range n.Warnings {
		plain(env.Out, "Mind: %s", sentence(w))
	}
	if layers && len(n.Layers) > 0 {
		printLayers(env, n.Layers)
	}
}

func printLayers(env *Env, layers []layerJSON) {
	heading(env, "Layers")
	g := newGrid(env, ">height", ">plastic", ">time", ">peak flow")
	for _, l := range layers {
		g.row(quantity.Length.Show(l.Z), quantity.Volume.Show(l.Volume), quantity.Duration.Show(l.Time), quantity.VolumeFlow.Show(l.Peak))
	}
	g.print()
}

func listNeeds(c *cobra.Command, env *Env) error {
	state, err := readShop(c, env)
	if err != nil {
		return err
	}
	table, err := state.Table()
	if err != nil {
		return err
	}
	needs := []needJSON{}
	for _, n := range state.Needs {
		figures, err := eats.Of(table, n)
		if err != nil {
			return err
		}
		needs = append(needs, needOut(eats.Found{Need: n}, figures, false))
	}
	if asJSON(c) {
		return printTotal(c, env, needs, nil, nil)
	}
	if len(needs) == 0 {
		plain(env.Out, "No need is saved. hopperful need part.gcode --polymer PLA --save \"name\" saves one.")
		return nil
	}
	g := newGrid(env, "need", "material", ">mass", ">print time", "state")
	for _, n := range needs {
		word := "open"
		if n.Done {
			word = "done"
		}
		g.row(n.Name, material(n.Polymer, n.Colour), shownOr(n.Figures, "mass"), shownOr(n.Figures, "print_time"), word)
	}
	g.print()
	return nil
}

func shownOr(figures map[string]figure.Figure, key string) string {
	f, ok := figures[key]
	if !ok {
		return "unknown"
	}
	return f.Shown()
}

// saveNeed keeps a need in the shop.
func saveNeed(c *cobra.Command, env *Env, n shop.Need) error {
	books, err := openShop(c, env)
	if err != nil {
		return err
	}
	defer books.Close()
	r, _, err := books.Append(c.Context(), shop.Record{Body: &shop.NeedSet{Need: n}})
	if err != nil {
		return err
	}
	fmt.Fprintf(env.Err, "Saved as %q, record %d.\n", n.Name, r.ID)
	return nil
}

// endNeed marks a saved need as done.
func endNeed(c *cobra.Command, env *Env, name string) error {
	var common noting
	return common.write(c, env, func(state *shop.State) (shop.Body, error) {
		n, ok := state.Need(name)
		if !ok {
			return nil, noSuchNeed(state, name)
		}
		n.Done = true
		return &shop.NeedSet{Need: n}, nil
	})
}
