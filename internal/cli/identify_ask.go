package cli

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"strings"

	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/plan/identification"
	"hopperful/polymer/identify"
	"hopperful/shop"
)

// dialogue puts questions on standard error and reads the answers.
type dialogue struct {
	env *Env
	say *say.Printer
	in  *bufio.Scanner
	end bool // nothing more is said
}

// askPiece asks about a piece, the most telling test first, until nothing more
// would tell much, everything stops, or nobody answers.
func askPiece(ctx context.Context, env *Env, p *say.Printer, state *shop.State, opt identification.Options) (identification.Options, error) {
	d := &dialogue{env: env, say: p, in: bufio.NewScanner(io.LimitReader(env.In, 1<<16))}
	d.in.Buffer(nil, 256)
	fmt.Fprintln(env.Err, p.Line("identification.how_to_answer"))
	if opt.Chlorine == shop.Unknown {
		opt.Chlorine = d.yesNo(p.Line("identification.ask_chlorine") + " " + p.Line("identification.how_chlorine"))
	}
	skipped := map[string]bool{}
	for !d.end && ctx.Err() == nil {
		out, err := identification.Identify(state, opt)
		if err != nil {
			return opt, err
		}
		t, ok := nextUnskipped(out, skipped)
		if !ok {
			break
		}
		if !d.try(t, &opt) {
			skipped[identification.Spell(t.Finding(true))] = true
		}
	}
	return opt, ctx.Err()
}

// nextUnskipped is the most telling test nobody skipped.
func nextUnskipped(out identification.Identification, skipped map[string]bool) (identification.Test, bool) {
	if out.Next == nil {
		return identification.Test{}, false
	}
	for _, t := range append([]identification.Test{*out.Next}, out.Tests...) {
		if !skipped[identification.Spell(t.Finding(true))] {
			return t, true
		}
	}
	return identification.Test{}, false
}

// try puts one test to the user; false when it was not tried.
func (d *dialogue) try(t identification.Test, opt *identification.Options) bool {
	if t.Kind == identify.Float {
		if opt.Solid == shop.Unknown {
			opt.Solid = d.yesNo(d.say.Line("identification.ask_solid") + " " + d.say.Line("identification.how_solid"))
		}
		if opt.Solid == shop.Unknown { // no chip today: do not ask for it again
			opt.Solid = shop.No
		}
		if opt.Solid == shop.No {
			return false
		}
	}
	fmt.Fprintf(d.env.Err, "\n%s\n", d.say.Say(t.How))
	if !t.Mind.Empty() {
		fmt.Fprintln(d.env.Err, d.say.Say(t.Mind))
	}
	answer := d.yesNo(d.say.Say(t.Ask))
	if answer == shop.Unknown {
		return false
	}
	opt.Findings = append(opt.Findings, t.Finding(answer == shop.Yes))
	return true
}

// yesNo asks one question until the answer can be read; Unknown when it is
// skipped or nobody answers.
func (d *dialogue) yesNo(question string) shop.YesNo {
	for !d.end {
		fmt.Fprintf(d.env.Err, "%s [%s] ", question, d.say.Line("identification.answers"))
		if !d.in.Scan() {
			fmt.Fprintln(d.env.Err)
			d.end = true
			break
		}
		switch strings.ToLower(strings.TrimSpace(d.in.Text())) {
		case "yes", "y", "ja", "j":
			return shop.Yes
		case "no", "n", "nein":
			return shop.No
		case "skip", "unknown", "weiter", "":
			return shop.Unknown
		case "stop", "ende":
			d.end = true
		default:
			fmt.Fprintln(d.env.Err, d.say.Line("identification.none_of_answers", fact.Name("typed", shortened(d.in.Text()))))
		}
	}
	return shop.Unknown
}
