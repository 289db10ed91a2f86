package moisture

import (
	"testing"

	"hopperful/internal/checkrow"
)

func TestHostileNumbersAreRefused(t *testing.T) {
	t.Parallel()
	checkrow.Hostile(t, map[string]any{
		"VapourPressure":     VapourPressure,
		"RelativeHumidity":   RelativeHumidity,
		"DewPoint":           DewPoint,
		"AbsoluteHumidity":   AbsoluteHumidity,
		"BedDiffusivity":     BedDiffusivity,
		"BedTime":            BedTime,
		"CarryTime":          CarryTime,
		"NewOven":            NewOven,
		"NewDehydrator":      NewDehydrator,
		"NewDesiccantBox":    NewDesiccantBox,
		"NewDryAir":          NewDryAir,
		"NewRoom":            NewRoom,
		"DryingTime":         DryingTime,
		"WaterAfter":         WaterAfter,
		"LotLost":            LotLost,
		"LotTime":            LotTime,
		"OpenTime":           OpenTime,
		"SaturationPressure": SaturationPressure,
		"EquilibriumWater":   EquilibriumWater,
		"DiffusivityAt":      DiffusivityAt,
		"VapourDiffusivity":  VapourDiffusivity,
		"LossOnDrying":       LossOnDrying,
		"SampleFor":          SampleFor,
		"Root":               Root,
	})
}
