// Package melt says how a molten plastic flows: how thick it is at a shear rate
// and temperature, what its measured melt flow rate makes of a textbook curve,
// and what pressure a nozzle asks for a flow.
//
// The way through: a viscosity law with temperature, [CrossWLF] or [PowerLaw],
// gives a [Curve] at one temperature, refused above the ceiling at which the
// polymer breaks down. [ModelMFR] reckons the melt flow rate the curve would
// show in a plastometer; the ratio of measured to modelled thins the law to the
// lot ([Thinning]). [NozzleDrop] takes the curve through cone
// and land of a nozzle. [TimedCuts] turns weighings into flows.
//
// Loss at the entrance and swell behind the nozzle come as ranges ([Span]): no
// curve of shear viscosity holds them.
package melt
