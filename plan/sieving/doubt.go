package sieving

import (
	"cmp"
	"slices"

	"hopperful/answer"
	"hopperful/process/sieve"
)

// worry is a spoiler with how bad it is.
type worry struct {
	answer.Spoiler
	weight float64
}

func (f *sifting) worry(weight float64, what, remedy string) {
	f.worries = append(f.worries, worry{answer.Spoiler{What: what, Remedy: remedy}, weight})
}

// remedies say what helps against a warning, and how bad it is.
var remedies = map[sieve.Code]struct {
	weight float64
	remedy string
}{
	sieve.Gain:          {0.8, "Weigh the empty sieves and the charge again; more cannot come out than went in."},
	sieve.Loss:          {0.7, "Brush the meshes, look under the stack, and weigh again; dust in the air is lost for good."},
	sieve.MixedForms:    {0.5, "Use sieves of one form in a stack."},
	sieve.CoarseTop:     {0.4, "Add a coarser sieve on top."},
	sieve.FullPan:       {0.4, "Add a finer sieve above the pan."},
	sieve.WideStep:      {0.3, "Put a sieve in between."},
	sieve.ChargeUnknown: {0.2, "Weigh what is put on the top sieve; only then can a loss be seen."},
}

// doubts gathers what could spoil the analysis, worst first. What does not make
// the three goes among the notes.
func (f *sifting) doubts() {
	for _, d := range f.a.Doubts {
		f.worry(1, d.Text, "If so, weigh the empty sieves and enter both weights; if not, weigh the charge again.")
	}
	for _, w := range f.a.Warnings {
		r := remedies[w.Code]
		if len(f.a.Doubts) > 0 && w.Code == sieve.Gain {
			continue // the doubt explains it
		}
		f.worry(r.weight, answer.Sentence(w.Text), r.remedy)
	}
	if f.out.Simple {
		f.worry(0.25, "One or two sieves leave the sizes wide open.", "Sieve through three and more.")
	}
	slices.SortStableFunc(f.worries, func(a, b worry) int { return cmp.Compare(b.weight, a.weight) })
	f.out.Spoilers = []answer.Spoiler{}
	for i, w := range f.worries {
		if i < answer.MostSpoilers {
			f.out.Spoilers = append(f.out.Spoilers, w.Spoiler)
			continue
		}
		f.out.Notes = append(f.out.Notes, w.What+" "+w.Remedy)
	}
}
