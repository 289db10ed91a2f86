package plan

import (
	"fmt"
	"math/rand/v2"

	"hopperful/estimate"
	"hopperful/polymer"
	"hopperful/shop"
)

// lesson is what a mill's own records say to a plan.
type lesson struct {
	log    *logbook
	fitted *estimate.Fitted
	target estimate.Target
	books  estimate.Beliefs // before any record, for the material asked about
}

// learned fits the records of a mill, all or those before one (0: all), to be
// asked about a material.
func learned(s *shop.State, m shop.Mill, material polymer.Polymer, books estimate.Beliefs, before shop.RecordID) (*lesson, error) {
	log, err := readLog(s, m, before)
	if err != nil {
		return nil, fmt.Errorf("reading the records of %s: %w", m.Name, err)
	}
	fitted, err := log.fit()
	if err != nil {
		return nil, fmt.Errorf("learning from the records of %s: %w", m.Name, err)
	}
	return &lesson{log, fitted, log.target(m, material), books}, nil
}

// beliefs are the books' ranges, narrowed by the records.
func (l *lesson) beliefs() estimate.Beliefs { return l.fitted.Beliefs(l.books, l.target) }

// draws are joint draws of them: without records, the books'.
func (l *lesson) draws(n int, seed uint64) ([][]float64, error) {
	rows, err := l.fitted.Draws(l.books, l.target, n, rand.New(rand.NewPCG(seed, seed)))
	if err != nil {
		return nil, fmt.Errorf("drawing the ranges: %w", err)
	}
	return rows, nil
}
