package figures

import (
	"fmt"
	"strings"
)

// A plan's figures go back to the same few: the mass wanted stands behind each of them,
// with all that it follows from. once has each explained where it first stands, and
// leads there from everywhere else; a page is then half as long.
type Once map[string]string

// Figures goes through a list in the order it stands on the page.
func (o Once) Figures(list []View) {
	for i := range list {
		o.Figure(&list[i])
	}
}

// Figure leads a figure and its inputs to where their reasons stand already.
func (o Once) Figure(v *View) {
	if len(v.Inputs) == 0 && len(v.Records) < 4 && len(v.Sources) == 0 {
		return // shorter than the way to it
	}
	key := v.key()
	if id, told := o[key]; told {
		v.Same, v.How, v.Inputs, v.Sources, v.Records, v.Warnings = "#"+id, "", nil, nil, nil, nil
		return
	}
	v.ID = fmt.Sprintf("f%d", len(o)+1)
	o[key] = v.ID
	o.Figures(v.Inputs)
}

// key is all that a figure shows.
func (v *View) key() string {
	var b strings.Builder
	fmt.Fprint(&b, v.Name, "|", v.Plain(), "|", v.Range, "|", v.Limit, v.LimitBy, v.InTen, "|", v.Origin, "|", v.How, v.Sources, v.Records, v.Warnings)
	for i := range v.Inputs {
		b.WriteString("(" + v.Inputs[i].key() + ")")
	}
	return b.String()
}
