// Package moisture computes how wet granulate is, how long it takes to dry, and
// how long dry granulate may stand in the open.
//
// Air is a temperature and a partial pressure of water. Plastic at rest takes up
// water in proportion to the relative humidity at its own temperature; heating
// room air lowers that, which is why an oven dries at all. Water moves through a
// grain by diffusion: a [Body] is one sphere, cylinder or plate, a [Lot] a size
// distribution of them. A [Dryer] is the air that reaches the granulate; a [Bed]
// says how deep it lies, because deep layers dry from the top and not from the
// grain. [DryingTime] puts them together and refuses, with the reason, what
// cannot work: too hot, too deep, air too wet.
//
//	∂C/∂t = D ∇²C,   −D ∂C/∂r = k (C_surface − C_e),   F = D t/a²,   B = k a/D
//
// Diffusivities of most plastics are known to a factor of two at best, so a
// drying time is a range; the weighings of a shop narrow it. Loss on drying says
// how much a scale can see.
package moisture
