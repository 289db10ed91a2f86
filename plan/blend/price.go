package blend

import (
	"strings"

	"hopperful/answer"
	"hopperful/fact"
	"hopperful/figure"
	"hopperful/plan/traceability"
	"hopperful/quantity"
)

// tellPrices notes the prices that were guessed.
func (j *blendJob) tellPrices() {
	if j.req.Order != Cheapest {
		return
	}
	for _, id := range j.shelf.made.Guessed { // also those guessed for another question
		if !strings.EqualFold(j.state.Lots.At(id).Polymer, j.polymer.Name) {
			continue
		}
		j.note(fact.Say("blend.price_taken", answer.Lot("lot", j.state.Lots.At(id)), fact.Figure("price", j.money(traceability.UsualPrice))))
	}
}

// money is an amount in the shop's currency.
func (j *blendJob) money(v float64) figure.Figure {
	f := figure.Exact("money", "blend.material", quantity.Money, v, figure.Reckoned)
	f.Currency = j.state.Shop.Currency
	return f
}
