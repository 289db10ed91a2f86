package blend

import (
	"hopperful/answer"
	"hopperful/fact"
	"hopperful/plan/traceability"
	"hopperful/quantity"
)

// spoilers are what could spoil the best recipe, worst first: its dust, a screw
// that mixes badly, and grains that part again.
func (j *blendJob) spoilers(b *Blending) {
	best := b.Recipes[0]
	for _, f := range best.Figures {
		if f.Key == "fines" && f.Value > traceability.DustBorneBy(j.state).Median {
			b.Spoilers = append(b.Spoilers, answer.Found(fact.Say("blend.dusty", fact.About("share", quantity.Share, f.Value), fact.Set("limit", quantity.Length, answer.FinesLimit)), fact.Say("blend.sieve_it_off")))
		}
	}
	if j.wanted != nil && best.Mixed != nil {
		b.Spoilers = append(b.Spoilers, answer.Found(fact.Say("blend.streaks", fact.Name("mixed", best.Mixed.RGB), fact.Name("unmixed", best.Unmixed.RGB)), fact.Say("blend.print_a_piece")))
	}
	if len(best.Portions) > 1 {
		b.Spoilers = append(b.Spoilers, answer.Found(fact.Say("blend.parts_again"), fact.Say("blend.roll_it")))
	}
}
