package study

import (
	"fmt"
	"math"
	"strings"
)

// The aims a study is held against.
const (
	aimProduct = 0.05 // median error of a product's mass after ten records
	aimRise    = 1.0  // median error of the wall's rise then [K]
	aimCover   = 0.03 // between a range's share and how often it holds the truth
	aimAfter   = 10   // records
)

// Table writes the results as a page, with a verdict on every aim.
func Table(results []Result, mills int, seed uint64) string {
	var b strings.Builder
	b.WriteString("## Inside the equations\n\n")
	fmt.Fprintf(&b, "%d invented mills (seed %d). The true parameters of each are drawn from the books' ranges; it then writes down runs with the errors of a shop: masses 2 %% and a gram, temperatures 1.5 K at either end, times 2 s, energy 3 %%, one mass in %d with a digit lost; products always, what is left in half of the runs, the wall after in seven of ten, the charge after in three, energy in four. ", mills, seed, slips)
	fmt.Fprintf(&b, "Then the fit forecasts %d charges it has not seen, and states its ranges of %d parameters; the truth is known.\n\n", newCharges, len(asked))
	b.WriteString("![errors and coverage after 0, 3, 10 and 30 records](learning.svg)\n\n")
	b.WriteString("| records | product off by | wall's rise off by | 50 % range of forecasts holds | 80 % | 95 % | 50 % range of parameters holds | 80 % | 95 % |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n")
	for _, r := range results {
		fmt.Fprintf(&b, "| %d | %.1f %% | %.2f K |", r.Records, 100*r.Product, r.Rise)
		for _, c := range append(append([]float64{}, r.Covers...), r.CoversBook...) {
			fmt.Fprintf(&b, " %.0f %% |", 100*c)
		}
		b.WriteString("\n")
	}
	b.WriteString("\nErrors are medians over all new charges. ")
	fmt.Fprintf(&b, "A share of %d forecasts is itself known to about %.1f points (two standard deviations, more where charges of one mill err together).\n\n", 2*newCharges*mills, 200*math.Sqrt(0.16/float64(2*newCharges*mills)))
	b.WriteString("### Aims\n\n")
	for _, line := range verdicts(results) {
		b.WriteString("- " + line + "\n")
	}
	b.WriteString("\nThe study asks whether the statistics are right when the model is: the invented mills obey the same equations. How well these equations describe a real mill is another question; that is what the mills outside the equations are for.\n")
	return b.String()
}

// verdicts says of every aim whether it was met.
func verdicts(results []Result) []string {
	var all []string
	say := func(met bool, format string, args ...any) {
		word := "not met"
		if met {
			word = "met"
		}
		all = append(all, fmt.Sprintf(format, args...)+": "+word+".")
	}
	for _, r := range results {
		if r.Records == aimAfter {
			say(r.Product < aimProduct, "Median error of the product after %d records below %.0f %% (%.1f %%)", aimAfter, 100*aimProduct, 100*r.Product)
			say(r.Rise < aimRise, "Median error of the wall's rise after %d records below %.0f K (%.2f K)", aimAfter, aimRise, r.Rise)
		}
	}
	for _, r := range results {
		for _, group := range []struct {
			name   string
			covers []float64
		}{{"forecasts", r.Covers}, {"parameters", r.CoversBook}} {
			worst := 0.0
			for s, share := range Shares {
				if off := group.covers[s] - share; math.Abs(off) > math.Abs(worst) {
					worst = off
				}
			}
			say(math.Abs(worst) <= aimCover, "Ranges of %s after %d records hold the truth as often as they say, within 3 points (worst %+.1f)", group.name, r.Records, 100*worst)
		}
	}
	return all
}
