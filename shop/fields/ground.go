package fields

import "hopperful/quantity"

// ground is one run of a mill on one charge.
var ground = []Field{
	{Path: "mill", As: Named, Label: "Mill", Must: true, Flag: "mill", Usage: "name of the mill; may be left out when there is one"},
	{Path: "from", As: Lot, Label: "Ground from", Must: true, Flag: "from", Usage: "the lot the charge was taken from"},
	{Path: "level", As: Whole, Kind: quantity.Count, Lo: 1, Hi: 1000, Words: "level", Label: "Controller level", Flag: "level", Usage: "level of the controller"},
	{Path: "charge_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Lo: Grain, Hi: Heaviest, Words: "charge", Must: true,
		Label: "Charge in", Flag: "charge", Usage: "mass put in: 90g"},
	{Path: "run_s", As: Amount, Kind: quantity.Duration, Unit: "min", Lo: 1, Hi: 24 * Hour, Words: "run", Must: true,
		Label: "Run time", Help: "For example 3 min 20 s, or 3:20.", Flag: "run", Usage: "from start to stop: 62s, \"1 min 20 s\""},
	{Path: "product_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Hi: Heaviest, Words: "product",
		Label: "Product out", Help: "Leave empty if you weigh it together with later charges.", Flag: "product", Usage: "mass that came out"},
	{Path: "into", As: Lot, Label: "Product goes into", Flag: "into", Usage: "the lot the product went into; empty: that of the day's runs of this scrap, else a new one; new: always a new one"},
	{Path: "left_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Hi: Heaviest, Words: "mass left in the mill",
		Label: "Left in the mill", Help: "If you weighed it.", Flag: "left", Usage: "mass that stayed in the mill"},
	{Path: "swept_kg", As: Amount, Kind: quantity.Mass, Unit: "g", Hi: Heaviest, Words: "mass swept up",
		Label: "Dust and spill swept up", Flag: "swept", Usage: "dust and spill gathered and thrown away"},
	heat("charge_before_k", "temperature of the charge before", "Charge before", "", "charge-before"),
	heat("charge_after_k", "temperature of the charge after", "Charge after", "Right after the stop, in the middle of the heap.", "charge-after"),
	heat("wall_before_k", "temperature of the wall before", "Wall before", "", "wall-before"),
	heat("wall_after_k", "temperature of the wall after", "Wall after", "", "wall-after"),
	{Path: "room_k", As: Amount, Kind: quantity.Temperature, Unit: "°C", Lo: Coldest, Hi: 273.15 + 60, Words: "temperature of the room",
		Label: "Room", Flag: "room", Usage: "temperature of the room"},
	{Path: "rest_before_s", As: Amount, Kind: quantity.Duration, Unit: "min", Hi: 10 * Year, Words: "rest before the run",
		Label: "Rest since the run before", Flag: "rest", Usage: "time since the last run's end"},
	{Path: "energy_j", As: Amount, Kind: quantity.Energy, Unit: "kWh", Hi: 1e5 * Hour, Words: "energy",
		Label: "Energy by the meter", Flag: "energy", Usage: "what the plug-in meter counted: 11Wh"},
	{Path: "hole_m", As: Amount, Kind: quantity.Length, Unit: "mm", Lo: 1e-4, Hi: 0.1, Words: "screen hole",
		Label: "Hole of the screen, if not the mill's usual", Flag: "hole", Usage: "hole of the screen in use, when not the mill's own"},
	{Path: "stalled", As: Check, Label: "The blade stalled", Flag: "stalled", Usage: "the blade stood still"},
	{Path: "emptied", As: Check, Label: "The mill was emptied before this charge", Flag: "emptied", Usage: "what earlier charges had left was taken out before it"},
}

// heat is a temperature read at the machine; the refusal's words are the flag's.
func heat(path, words, label, help, flag string) Field {
	return Field{Path: path, As: Amount, Kind: quantity.Temperature, Unit: "°C", Lo: Coldest, Hi: Hottest, Words: words, Label: label, Help: help, Flag: flag, Usage: words}
}
