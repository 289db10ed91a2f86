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
		"CriticalStrength": CriticalStrength,
		"Carr":             Carr,
		"Hausner":          Hausner,
		"ClassFlow":        ClassFlow,
		"ReposeAngle":      ReposeAngle,
		"ClassRepose":      ClassRepose,
		"ClassCohesion":    ClassCohesion,
		"ColumnStress":     ColumnStress,
		"BulkDensity":      BulkDensity,
		"PackingShare":     PackingShare,
		"JudgePacking":     JudgePacking,
		"DischargeRate":    DischargeRate,
		"FillMass":         FillMass,
		"JarsFor":          JarsFor,
		"FrustumVolume":    FrustumVolume,
		"DustFillsVoids":   DustFillsVoids,
		"MixedPacking":     MixedPacking,
		"MixedStrength":    MixedStrength,
		"Bridging":         Bridging,
		"Remedies":         Remedies,
	})
}
