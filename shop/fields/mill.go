package fields

import "hopperful/quantity"

// mill is a mill as its owner knows it.
var mill = []Field{
	{Path: "mill.name", As: Text, Label: "Its name", Help: "As people call it.", Must: true, Flag: "name", Usage: "what you call it"},
	{Path: "mill.rated_w", As: Amount, Kind: quantity.Power, Unit: "W", Lo: 1, Hi: mostWatts, Words: "rated power",
		Label: "Rated power", Help: "On the label of the motor.", Flag: "rated", Usage: "the figure on the label: 1.8kW"},
	{Path: "mill.chamber_m3", As: Amount, Kind: quantity.Volume, Unit: "L", Lo: leastHold, Hi: mostHold, Words: "chamber", Label: "Chamber volume",
		Help: "The pot the charge tumbles in. Fill it level with rice or granulate and tip that into a measuring jug, or reckon it from height and width. No water: its wall may be a screen, and under it is the motor.",
		Flag: "chamber", Usage: "volume the charge tumbles in: 1.1l"},
	{Path: "mill.screen.hole_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-4, Hi: 0.1, Words: "screen hole",
		Label: "Hole of the screen", Help: "The perforated sheet the product leaves through.", Flag: "hole", Usage: "hole of the screen: 2mm"},
	{Path: "mill.jar_m3", As: Amount, Kind: quantity.Volume, Unit: "L", Lo: leastHold, Hi: mostHold, Words: "jar",
		Label: "Container under the outlet", Help: "The jar the product falls into: it sets after how many charges you empty it.", Flag: "jar", Usage: "container under the outlet: 300ml"},
	{Path: "mill.inlet_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-3, Hi: 2, Words: "inlet",
		Label: "Widest piece that goes in", Flag: "inlet", Usage: "widest piece that goes in"},
	{Path: "mill.thermometer", As: Pick, Label: "Temperatures are read", Flag: "thermometer", Usage: "where temperatures are read; empty: nowhere",
		Pick: []Choice{{"", "not at all"}, {"outer wall", "at the outer wall"}, {"in the charge", "in the charge"}}},
	guard("mill.protective_earth", "Metal parts are earthed", "earth", "metal parts are earthed"),
	guard("mill.lid_switch", "A switch stops the rotor when the lid opens", "lid-switch", "stops the rotor when the lid opens"),
	guard("mill.residual_current", "Its socket is behind a residual-current device", "rcd", "on a circuit with a residual-current device"),
	guard("mill.magnet", "A magnet at the outlet", "magnet", "a magnet at the outlet"),
	{Path: "mill.controller.levels", As: Whole, Kind: quantity.Count, Lo: 1, Hi: 1000, Words: "number of levels",
		Label: "Number of levels", Help: "The highest is full power.", Flag: "controller-levels", Usage: "levels of the power controller; 0: none"},
	{Path: "mill.controller.continuous_w", As: Amount, Kind: quantity.Power, Unit: "W", Lo: 1, Hi: mostWatts, Words: "continuous power",
		Label: "What it may carry all day", Help: "Its continuous rating, not the peak on the box.", Flag: "controller-continuous", Usage: "what the controller may carry all day"},
	{Path: "mill.controller.watts", As: Levels, Kind: quantity.Power, Hi: mostWatts, Words: "measured power",
		Label: "Watts while grinding", Help: "A line for each level you measured, such as 3: 420 W.", Flag: "watts", Usage: "measured while grinding: LEVEL=POWER"},
	{Path: "mill.controller.idle_watts", As: Levels, Kind: quantity.Power, Hi: mostWatts, Words: "measured power",
		Label: "Watts while empty", Help: "A line for each level you measured.", Flag: "idle-watts", Usage: "measured empty: LEVEL=POWER"},
	{Path: "mill.wall_metal", As: Pick, Label: "Pot and plate are of", Flag: "wall-metal", Usage: "what pot and plate are of; empty: another",
		Pick: []Choice{{"", "don't know, or another"}, {"steel", "steel"}, {"stainless steel", "stainless steel"}, {"aluminium", "aluminium"}, {"cast iron", "cast iron"}}},
	{Path: "mill.wall_kg", As: Amount, Kind: quantity.Mass, Unit: "kg", Lo: 0.01, Hi: Heaviest, Words: "mass of the wall",
		Label: "Mass of pot, plate and lid", Flag: "wall-mass", Usage: "pot, plate and lid that warm up together"},
	{Path: "mill.painted", As: YesNo, Label: "Painted or dark outside", Help: "Such walls give off more heat than bright metal.", Flag: "painted", Usage: "painted or dark on the outside"},
	{Path: "mill.rotor_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 0.01, Hi: 2, Words: "rotor", Label: "Rotor, tip to tip", Flag: "rotor", Usage: "blade, tip to tip"},
	{Path: "mill.rotor_kg", As: Amount, Kind: quantity.Mass, Unit: "kg", Lo: 1e-3, Hi: Heaviest, Words: "mass of the rotor",
		Label: "Mass of rotor and blades", Flag: "rotor-mass", Usage: "blades and what turns with them"},
	{Path: "mill.rotor_rad_s", As: Amount, Kind: quantity.Rotation, Unit: "rpm", Lo: 0.1, Hi: 60000 * rpm, Words: "speed of the rotor",
		Label: "Rotor speed at full power", Flag: "speed", Usage: "at full power: 14000rpm"},
	{Path: "mill.continuous_w", As: Amount, Kind: quantity.Power, Unit: "W", Lo: 1, Hi: mostWatts, Words: "continuous power",
		Label: "What the motor may take all day", Help: "If its label names a continuous rating.", Flag: "continuous", Usage: "what the motor may take all day"},
	{Path: "mill.screen.open_share", As: Amount, Kind: quantity.Share, Unit: "%", Lo: 0.01, Hi: 0.95, Words: "open share of the screen",
		Label: "Open share of the screen", Help: "Hole area over sheet area.", Flag: "open-share", Usage: "hole area over sheet area: 20%"},
	{Path: "mill.noise_db", As: Amount, Kind: quantity.SoundLevel, Unit: "dB(A)", Lo: 30, Hi: 140, Words: "noise",
		Label: "Noise at your ear", Help: "While it grinds.", Flag: "noise", Usage: "at your ear, if measured: 91dB(A)"},
	{Path: "mill.retired", As: Check, Label: "No longer used", Flag: "retired", Usage: "no longer used"},
	{Path: "means", As: Pick, Label: "What is different now", Flag: "means", Usage: "what differs was changed now, or was always so", Pick: []Choice{
		{"", "a new screen, rotor or jar was put in; all else was always so"}, {"change", "all of it was changed now"}, {"correction", "all of it was always so"}}},
}

// guard is what keeps a person whole. A missing answer never counts as yes.
func guard(path, label, flag, usage string) Field {
	return Field{Path: path, As: YesNo, Label: label, Flag: flag, Usage: usage}
}
