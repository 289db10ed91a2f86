package bulk

import (
	"testing"

	"hopperful/internal/checkrow"
)

func TestHostileNumbersAreRefused(t *testing.T) {
	t.Parallel()
	checkrow.Hostile(t, map[string]any{
		"MechanicalOutlet": MechanicalOutlet,
		"MechanicalRisk":   MechanicalRisk,
		"ArchFactor":       ArchFactor,
		"CohesiveOutlet":   CohesiveOutlet,
		"Carr":             Carr,
		"Hausner":          Hausner,
		"ClassFlow":        ClassFlow,
		"BulkDensity":      BulkDensity,
		"PackingShare":     PackingShare,
		"JudgePacking":     JudgePacking,
		"DischargeRate":    DischargeRate,
		"FillMass":         FillMass,
		"DustFillsVoids":   DustFillsVoids,
		"MixedPacking":     MixedPacking,
		"MixedStrength":    MixedStrength,
		"Bridging":         Bridging,
		"Remedies":         Remedies,
	})
}
