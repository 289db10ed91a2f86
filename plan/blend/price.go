package blend

import (
	"strings"

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
		j.note("Nobody wrote down what %s cost; %s %s a kilogram is taken.", id, quantity.Number.Plain(traceability.UsualPrice), j.state.Shop.Currency)
	}
}
