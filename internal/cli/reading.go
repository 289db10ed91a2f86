package cli

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/plan/consumption"
	"hopperful/process/colour"
	"hopperful/process/toolpath"
	"hopperful/quantity"
	"hopperful/shop"
)

// mostPiped bounds what is read from a pipe, which has to be set down in a
// temporary file first: 4 GB, four times the largest print file we plan for.
const mostPiped = 4 << 30

// readingFlags say how a file of a print is to be taken.
type readingFlags struct {
	polymer, colour   string
	rgb               string
	e                 string
	diameter, perTurn *float64
	acceleration      *float64
	wall, infill      *float64
	unit, plate       string
	copies            int
}

// The words of --e-is.
var eMeanings = map[string]toolpath.EMeaning{
	"filament": toolpath.EFilament, "volume": toolpath.EVolume, "turns": toolpath.ERevolution,
}

func (r *readingFlags) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&r.polymer, "polymer", "", "")
	f.StringVar(&r.colour, "colour", "", "")
	quantityVar(c, &r.diameter, "filament-diameter", quantity.Length)
	f.Var(wordFlag{[]string{"filament", "volume", "turns"}, &r.e}, "e-is", "")
	quantityVar(c, &r.perTurn, "per-turn", quantity.Volume)
	quantityVar(c, &r.acceleration, "acceleration", quantity.Number)
	quantityVar(c, &r.wall, "wall", quantity.Length)
	quantityVar(c, &r.infill, "infill", quantity.Share)
	f.Var(wordFlag{[]string{"mm", "cm", "m", "inch"}, &r.unit}, "unit", "")
	f.IntVar(&r.copies, "copies", 1, "")
	f.StringVar(&r.plate, "plate", "", "")
}

// reading turns the flags into how plan reads a file. A volume a turn that is
// not given is taken from the shop's printer.
func (r *readingFlags) reading(c *cobra.Command, state *shop.State) (consumption.Reading, error) {
	var how consumption.Reading
	take := func(into *float64, v *float64) {
		if v != nil {
			*into = *v
		}
	}
	how.Toolpath.E = eMeanings[r.e]
	take(&how.Toolpath.Diameter, r.diameter)
	take(&how.Toolpath.Acceleration, r.acceleration)
	take(&how.Wall, r.wall)
	take(&how.Infill, r.infill)
	how.Mesh.Unit, how.Copies, how.Plate = consumption.Units[r.unit], r.copies, r.plate
	how.Toolpath.PerRevolution = consumption.PerTurn(state)
	take(&how.Toolpath.PerRevolution, r.perTurn)
	switch {
	case r.e == "turns" && how.Toolpath.PerRevolution == 0:
		return how, usagef(c, fact.Say("cli.turns_without_melt"))
	case r.infill != nil && r.wall == nil:
		return how, usagef(c, fact.Say("cli.infill_without_wall"))
	}
	return how, nil
}

// find turns a word of the command into what a print eats: "-" is standard
// input, then a file, then a typed mass, then a saved need.
func (r *readingFlags) find(c *cobra.Command, env *Env, state *shop.State, word string) (consumption.Found, error) {
	found, err := r.findUnmarked(c, env, state, word)
	if err != nil {
		return found, err
	}
	p, err := knownPolymer(state, r.polymer)
	if err != nil {
		return found, err
	}
	if p != "" {
		found.Need.Polymer = p
	}
	if r.colour != "" {
		found.Need.Colour = r.colour
	}
	if r.rgb != "" {
		if _, err := colour.ParseHex(r.rgb); err != nil {
			return found, &failure{what: shop.WhyNot(err), advice: fact.Say("cli.do_colour_code"), err: err}
		}
		found.Need.RGB = r.rgb
	}
	return found, nil
}

func (r *readingFlags) findUnmarked(c *cobra.Command, env *Env, state *shop.State, word string) (consumption.Found, error) {
	how, err := r.reading(c, state)
	if err != nil {
		return consumption.Found{}, err
	}
	if word == "-" {
		return readPiped(c.Context(), env, env.In, env.speaks().Line("cli.standard_input"), how)
	}
	if facts, err := os.Stat(word); err == nil {
		return readFile(c.Context(), env, word, facts, how)
	}
	if kg, err := quantity.Mass.Parse(word); err == nil {
		if kg <= 0 {
			return consumption.Found{}, &failure{what: fact.Say("cli.need_of_nothing", fact.Name("mass", mass(kg))), advice: fact.Say("cli.do_mass_above_zero")}
		}
		return consumption.Found{Need: shop.Need{Name: mass(kg), From: "typed", Taken: "typed", Mass: &kg}}, nil
	}
	if n, ok := state.Need(word); ok {
		return consumption.Found{Need: n}, nil
	}
	return consumption.Found{}, noSuchNeed(state, word)
}

// noSuchNeed says what a word is not, and what it could have been.
func noSuchNeed(state *shop.State, word string) error {
	if strings.ContainsAny(word, "./\\") {
		return &failure{what: fact.Say("cli.no_file", fact.Name("word", word)), advice: fact.Say("cli.do_path_or_mass")}
	}
	var names []string
	for _, n := range state.Needs {
		names = append(names, n.Name)
	}
	return &failure{what: fact.Say("cli.no_file_mass_need", fact.Name("word", word)), advice: fact.Say("cli.give_file_or_mass", fact.Names("names", names))}
}

func readFile(ctx context.Context, env *Env, name string, facts fs.FileInfo, how consumption.Reading) (consumption.Found, error) {
	if facts.IsDir() {
		return consumption.Found{}, &failure{what: fact.Say("cli.is_folder", fact.Name("name", name)), advice: fact.Say("cli.do_file_in_zip")}
	}
	file, err := os.Open(name)
	if err != nil {
		return consumption.Found{}, err
	}
	defer file.Close()
	if !facts.Mode().IsRegular() {
		return readPiped(ctx, env, file, name, how)
	}
	p := watch(ctx, env, file, filepath.Base(name), facts.Size())
	defer p.done()
	return consumption.ReadNeed(name, p, facts.Size(), how)
}

// readPiped sets a stream down in a temporary file, because meshes have to be
// read out of order.
func readPiped(ctx context.Context, env *Env, r io.Reader, name string, how consumption.Reading) (found consumption.Found, err error) {
	file, err := os.CreateTemp("", "hopperful-*")
	if err != nil {
		return found, err
	}
	defer func() { err = errors.Join(err, file.Close(), os.Remove(file.Name())) }()
	size, err := io.Copy(file, io.LimitReader(r, mostPiped+1))
	if err != nil {
		return found, &failure{what: fact.Say("cli.file_unread", fact.Name("name", name), fact.Name("why", err.Error())), err: err}
	}
	if size > mostPiped {
		return found, &failure{what: fact.Say("cli.pipe_too_long", fact.Name("name", name), fact.Count("most_piped", int(mostPiped>>30))), advice: fact.Say("cli.do_no_pipe")}
	}
	p := watch(ctx, env, file, name, size)
	defer p.done()
	return consumption.ReadNeed(name, p, size, how)
}
