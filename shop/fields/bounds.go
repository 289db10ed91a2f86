package fields

import "math"

// Ends that several bounds share.
const (
	Grain    = 1e-6             // [kg] less than any workshop scale shows
	Heaviest = 1000.0           // [kg] more than a workshop moves at once
	Coldest  = 273.15 - 30      // [K]
	Hottest  = 273.15 + 300     // [K] above the melt of every printing polymer ground here
	Hour     = 3600.0           // [s]
	Year     = 366 * 24 * 3.6e3 // [s]

	leastHold, mostHold = 1e-5, 1.0 // [m³] of what is filled
	mostWatts           = 1e5       // [W]
	rpm                 = 2 * math.Pi / 60
)
