package heat_test

import (
	"fmt"

	"hopperful/process/heat"
)

// 150 W on 200 g of charge in a small pot: how far do charge and wall rise in
// five minutes, and how much of the heat is still there?
func Example() {
	const room = 293.15
	pot := heat.Pot{Wall: 1500, Exchange: 2, Loss: 0.75, ToCharge: 0.8, SpecificHeat: 1800}
	state := heat.State{Charge: room, Wall: room}
	var account heat.Account
	if err := pot.Step(&state, &account, heat.Span{Time: 300, Power: 150, From: 0.2, To: 0.2, Room: room}); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("charge %+.1f K, wall %+.1f K\n", state.Charge-room, state.Wall-room)
	fmt.Printf("in %.0f J, stored %.0f J, lost %.0f J\n", account.In, pot.Stored(state, 0.2, room), account.Lost)
	// Output:
	// charge +55.9 K, wall +15.6 K
	// in 45000 J, stored 43486 J, lost 1514 J
}
