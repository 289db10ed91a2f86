package web

import (
	"fmt"
	"strings"
)

// A plan's figures go back to the same few: the mass wanted stands behind each of them,
// with all that it follows from. once has each explained where it first stands, and
// leads there from everywhere else; a page is then half as long.
type once map[string]string

// figures goes through a list in the order it stands on the page.
func (o once) figures(list []figView) {
	for i := range list {
		o.figure(&list[i])
	}
}

func (o once) figure(v *figView) {
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
	o.figures(v.Inputs)
}

// key is all that a figure shows.
func (v *figView) key() string {
	var b strings.Builder
	fmt.Fprint(&b, v.Name, "|", v.Plain(), "|", v.Range, "|", v.Limit, v.LimitBy, v.InTen, "|", v.Origin, "|", v.How, v.Sources, v.Records, v.Warnings)
	for i := range v.Inputs {
		b.WriteString("(" + v.Inputs[i].key() + ")")
	}
	return b.String()
}
