package site

import "hopperful/plan/sensing"

// Sensors is who listens to the sensors of the shop.
type Sensors interface {
	Look() sensing.Seen
	Subscribe() (<-chan struct{}, func())
	SetAside(run int64) bool
	KeepIdle(mill string, watts float64) error
}

// Seen is what the sensors tell; nothing where nobody listens.
func (s *Site) Seen() sensing.Seen {
	if s.Sensors == nil {
		return sensing.Seen{Now: s.Now()}
	}
	return s.Sensors.Look()
}
