package blend

import (
	"hopperful/plan/lineage"
	"hopperful/quantity"
)

// tellPrices notes the prices that were guessed.
func (j *blendJob) tellPrices(w *lineage.MadeOf) {
	for _, id := range w.Guessed {
		j.note("Nobody wrote down what %s cost; %s %s a kilogram is taken.", id, quantity.Number.Plain(lineage.UsualPrice), j.state.Shop.Currency)
	}
}
