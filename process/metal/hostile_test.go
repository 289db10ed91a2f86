package metal

import (
	"testing"

	"hopperful/internal/checkrow"
)

func TestHostileNumbersAreRefused(t *testing.T) {
	t.Parallel()
	checkrow.Hostile(t, map[string]any{
		"Chance":         Chance,
		"CleanMass":      CleanMass,
		"CountAtMost":    CountAtMost,
		"Blockers":       Blockers,
		"StaysIn":        StaysIn,
		"Learn":          Learn,
		"PrintRisk":      PrintRisk,
		"FinerScreen":    FinerScreen,
		"WearFromParts":  WearFromParts,
		"WearFromMagnet": WearFromMagnet,
	})
}
