package plan

import (
	"hopperful/quantity"
)

// tellPrices notes the prices that were guessed.
func (j *blendJob) tellPrices(w *blendWalk) {
	for _, id := range w.guessed {
		j.note("Nobody wrote down what %s cost; %s %s a kilogram is taken.", id, quantity.Number.Plain(usualPrice), j.state.Shop.Currency)
	}
}
