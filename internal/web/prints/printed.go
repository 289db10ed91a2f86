package prints

// Lines of text a printed sheet holds at its usual size, and at the next
// smaller one; measured on the sheet of a usual plan.
const (
	usualLines = 20
	denseLines = 29
)

// Density is how closely the printed sheet has to be set to stay one sheet.
func (v planView) Density() string {
	lines := func(texts []string, wide int) int {
		n := 0
		for _, t := range texts {
			n += 1 + len(t)/wide
		}
		return n
	}
	var steps, warn []string
	for _, s := range v.Steps {
		steps = append(steps, s.Say)
	}
	for _, c := range v.Cautions {
		warn = append(warn, c.Say)
	}
	n := max(lines(steps, 60), lines(warn, 75)) + max(lines(v.Then, 60), len(v.Limits)+1) + (len(v.Numbers)+1)/2
	switch {
	case n > denseLines:
		return "denser"
	case n > usualLines:
		return "dense"
	}
	return ""
}
