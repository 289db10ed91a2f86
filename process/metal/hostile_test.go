package metal

import (
	"testing"

	"hopperful/internal/checkrow"
)

func TestHostileNumbersAreRefused(t *testing.T) {
	t.Parallel()
	checkrow.Hostile(t, map[string]any{
		"Chance":            Chance,
		"CleanMass":         CleanMass,
		"SampleForPrint":    SampleForPrint,
		"CountAtMost":       CountAtMost,
		"CountBetween":      CountBetween,
		"ShareAtMost":       ShareAtMost,
		"PiecesFor":         PiecesFor,
		"ChipsPerMass":      ChipsPerMass,
		"Blockers":          Blockers,
		"MassAbove":         MassAbove,
		"Pull":              Pull,
		"PullOverWeight":    PullOverWeight,
		"LiftNeeds":         LiftNeeds,
		"SaturationFlux":    SaturationFlux,
		"StaysIn":           StaysIn,
		"Learn":             Learn,
		"PrintRisk":         PrintRisk,
		"FinerScreen":       FinerScreen,
		"SamplingConstant":  SamplingConstant,
		"SamplingDeviation": SamplingDeviation,
		"SampleMass":        SampleMass,
		"CountDeviation":    CountDeviation,
		"WearFromParts":     WearFromParts,
		"WearFromMagnet":    WearFromMagnet,
	})
}
