package exposure_test

import (
	"fmt"

	"hopperful/process/exposure"
)

// The task example after ISO 9612: three tasks of one day.
func ExampleDayLevel() {
	level, err := exposure.DayLevel(
		exposure.Task{Level: 70.0, Time: 1.5 * 3600},
		exposure.Task{Level: 80.8, Time: 5.0 * 3600},
		exposure.Task{Level: 90.1, Time: 1.5 * 3600},
	)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("L_EX,8h %.1f dB(A)\n", level)
	// Output: L_EX,8h 84.3 dB(A)
}

// How long may a mill of 93 dB(A) run in a day before the upper action value?
func ExampleTimeLeft() {
	left, err := exposure.TimeLeft(93, exposure.UpperAction)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f min\n", left/60)
	// Output: 76 min
}
