package quantity

import "fmt"

// SI returns the symbol of the unit the kind's numbers are in.
func (k Kind) SI() string { return "" }

// Parse reads a workshop quantity of this kind into SI.
func (k Kind) Parse(text string) (float64, error) { return 0, fmt.Errorf("not read: %q", text) }

// Show renders an SI value in the workshop unit that suits its size.
func (k Kind) Show(si float64) string { return fmt.Sprint(si) }
