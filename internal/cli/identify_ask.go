package cli

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"strings"

	"hopperful/plan/piece"
	"hopperful/shop"
)

// dialogue puts questions on standard error and reads the answers.
type dialogue struct {
	env *Env
	in  *bufio.Scanner
	end bool // nothing more is said
}

// askPiece asks about a piece, the most telling test first, until nothing more
// would tell much, everything stops, or nobody answers.
func askPiece(ctx context.Context, env *Env, state *shop.State, opt piece.Options) (piece.Options, error) {
	d := &dialogue{env: env, in: bufio.NewScanner(io.LimitReader(env.In, 1<<16))}
	d.in.Buffer(nil, 256)
	fmt.Fprintln(env.Err, "Answer yes or no; skip when you cannot try it, stop to end.")
	if opt.Chlorine == shop.Unknown {
		opt.Chlorine = d.yesNo("Does anything speak of chlorine: a marking PVC, V or 3, a sharp smell, a maker's word?")
	}
	skipped := map[string]bool{}
	for !d.end && ctx.Err() == nil {
		out, err := piece.Identify(state, opt)
		if err != nil {
			return opt, err
		}
		t, ok := nextUnskipped(out, skipped)
		if !ok {
			break
		}
		if !d.try(t, &opt) {
			skipped[t.Say] = true
		}
	}
	return opt, ctx.Err()
}

// nextUnskipped is the most telling test nobody skipped.
func nextUnskipped(out piece.Identification, skipped map[string]bool) (piece.Test, bool) {
	if out.Next == nil {
		return piece.Test{}, false
	}
	for _, t := range append([]piece.Test{*out.Next}, out.Tests...) {
		if !skipped[t.Say] {
			return t, true
		}
	}
	return piece.Test{}, false
}

// try puts one test to the user; false when it was not tried.
func (d *dialogue) try(t piece.Test, opt *piece.Options) bool {
	if t.Test == "floats" {
		if opt.Solid == shop.Unknown {
			opt.Solid = d.yesNo("Next is a float test. Have you a solid chip, cut or crushed so that no air is in it?")
		}
		if opt.Solid == shop.Unknown { // no chip today: do not ask for it again
			opt.Solid = shop.No
		}
		if opt.Solid == shop.No {
			return false
		}
	}
	fmt.Fprintf(d.env.Err, "\n%s\n", t.How)
	if t.Caution != "" {
		fmt.Fprintf(d.env.Err, "Mind: %s\n", t.Caution)
	}
	switch d.yesNo(t.Ask) {
	case shop.Unknown:
		return false
	case shop.No:
		t.Finding.Yes = false
	}
	opt.Findings = append(opt.Findings, t.Finding)
	return true
}

// yesNo asks one question until the answer can be read; Unknown when it is
// skipped or nobody answers.
func (d *dialogue) yesNo(question string) shop.YesNo {
	for !d.end {
		fmt.Fprintf(d.env.Err, "%s [yes/no/skip/stop] ", question)
		if !d.in.Scan() {
			fmt.Fprintln(d.env.Err)
			d.end = true
			break
		}
		switch strings.ToLower(strings.TrimSpace(d.in.Text())) {
		case "yes", "y":
			return shop.Yes
		case "no", "n":
			return shop.No
		case "skip", "unknown", "":
			return shop.Unknown
		case "stop":
			d.end = true
		default:
			fmt.Fprintf(d.env.Err, "%q is none of yes, no, skip, stop.\n", shortened(d.in.Text()))
		}
	}
	return shop.Unknown
}
