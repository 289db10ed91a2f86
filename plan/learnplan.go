package plan

import (
	"fmt"
	"math/rand/v2"

	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/shop"
)

// learned is what a plan believes and draws from: the books' ranges, narrowed
// by the mill's own records. Without records the draws are the books'.
func learned(s *shop.State, m shop.Mill, material polymer.Polymer, books estimate.Beliefs, req Request) (estimate.Beliefs, [][]float64, error) {
	log, err := readLog(s, m, 0)
	if err != nil {
		return books, nil, fmt.Errorf("reading the records of %s: %w", m.Name, err)
	}
	fitted, err := estimate.Fit(log.setup, log.runs)
	if err != nil {
		return books, nil, fmt.Errorf("learning from the records of %s: %w", m.Name, err)
	}
	target := log.target(m, material)
	rows, err := fitted.Draws(books, target, req.Draws, rand.New(rand.NewPCG(req.Seed, req.Seed)))
	if err != nil {
		return books, nil, fmt.Errorf("drawing the ranges: %w", err)
	}
	return fitted.Beliefs(books, target), rows, nil
}
