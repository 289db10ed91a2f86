package moisture

import (
	"testing"

	"hopperful/internal/checkrow"
)

func TestHostileNumbersAreRefused(t *testing.T) {
	t.Parallel()
	checkrow.Hostile(t, map[string]any{
		"VapourPressure":            VapourPressure,
		"RelativeHumidity":          RelativeHumidity,
		"DewPoint":                  DewPoint,
		"AbsoluteHumidity":          AbsoluteHumidity,
		"HumidityRatio":             HumidityRatio,
		"VapourWetBulb":             VapourWetBulb,
		"BedDiffusivity":            BedDiffusivity,
		"BedTime":                   BedTime,
		"CarryTime":                 CarryTime,
		"NewOven":                   NewOven,
		"NewDehydrator":             NewDehydrator,
		"NewDesiccantBox":           NewDesiccantBox,
		"NewDryAir":                 NewDryAir,
		"NewRoom":                   NewRoom,
		"DryingTime":                DryingTime,
		"WaterAfter":                WaterAfter,
		"LotLost":                   LotLost,
		"LotTime":                   LotTime,
		"OpenTime":                  OpenTime,
		"SaturationPressure":        SaturationPressure,
		"SaturationPressureIF97":    SaturationPressureIF97,
		"SaturationTemperatureIF97": SaturationTemperatureIF97,
		"SaturationPressureMagnus":  SaturationPressureMagnus,
		"Centre":                    Centre,
		"NearSurface":               NearSurface,
		"EquilibriumWater":          EquilibriumWater,
		"SolubilityWater":           SolubilityWater,
		"Arrhenius":                 Arrhenius,
		"DiffusivityAt":             DiffusivityAt,
		"VapourDiffusivity":         VapourDiffusivity,
		"SurfaceTransfer":           SurfaceTransfer,
		"LossOnDrying":              LossOnDrying,
		"SampleFor":                 SampleFor,
		"WetToDry":                  WetToDry,
		"WaterToRemove":             WaterToRemove,
		"Titrated":                  Titrated,
		"Root":                      Root,
	})
}
