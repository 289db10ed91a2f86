// Package heat computes how warm charge and wall of a mill become, how long a
// rest takes, and what motor and controller carry.
//
// A [Pot] is two nodes and the room: the charge, whose mass falls as product
// leaves, and the wall with pot, plate and lid. [Pot.Step] moves both on over a
// span of constant power, exactly; [Pot.Follow] does so along the course of a
// run, [Pot.Rest] while the mill stands. Every joule is accounted for: in =
// stored + lost + carried out. Nothing on these paths allocates.
//
//	d(C_c (T_c − T_room))/dt = η P − K (T_c − T_w) − ṁ_out c_p (T_c − T_room),   C_c = m c_p
//	C_w dT_w/dt = (1 − η) P + K (T_c − T_w) − UA (T_w − T_room)
//
// The rest serves the setting up of a Pot (free convection, radiation, heat
// capacities) and the load over a cycle. The forecast is
// no safety device: soft plastic, hot walls and overloaded motors are kept off by
// care, by the maker's instructions and by protective devices.
package heat
