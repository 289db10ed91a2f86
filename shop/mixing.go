package shop

// mixWith makes a lot what it is after other material was added to it: what
// the two do not share is no longer known, and a warning about either stays.
func (l *Lot) mixWith(more Lot) {
	if l.Polymer != more.Polymer {
		l.Polymer, l.Sure = "", nil
	}
	l.Sure = lower(l.Sure, more.Sure)
	if l.Colour != more.Colour {
		l.Colour, l.RGB = "mixed", ""
	}
	if l.RGB != more.RGB {
		l.RGB = ""
	}
	l.Halogen = worse(l.Halogen, more.Halogen)
	if l.Metal == "" {
		l.Metal = more.Metal
	}
	l.Pieces = l.Pieces.with(more.Pieces)
}

// unsaid fills what a person left empty about material added to a lot: it is
// as the lot is.
func (l *Lot) unsaid(of Lot) Lot {
	if of.Polymer == "" {
		of.Polymer, of.Sure = l.Polymer, l.Sure
	}
	if of.Colour == "" {
		of.Colour, of.RGB, of.ID = l.Colour, l.RGB, l.ID // its very colour, even if nobody said it
	}
	if of.Halogen == Unknown {
		of.Halogen = l.Halogen
	}
	if of.Pieces == (Pieces{}) {
		of.Pieces = l.Pieces
	}
	return of
}

// with are the pieces of both heaps: the largest counts, the rest only where
// they agree.
func (p Pieces) with(q Pieces) Pieces {
	if p.Largest == nil || q.Largest == nil {
		p.Largest = nil
	} else if *q.Largest > *p.Largest {
		p.Largest = q.Largest
	}
	p.Wall, p.Infill = agreed(p.Wall, q.Wall), agreed(p.Infill, q.Infill)
	return p
}

func agreed(a, b *float64) *float64 {
	if a != nil && b != nil && *a == *b {
		return a
	}
	return nil
}

// lower is the smaller of two numbers, unknown when either is.
func lower(a, b *float64) *float64 {
	switch {
	case a == nil || b == nil:
		return nil
	case *b < *a:
		return b
	}
	return a
}

// worse is yes when either is, no only when both are.
func worse(a, b YesNo) YesNo {
	switch {
	case a == Yes || b == Yes:
		return Yes
	case a == No && b == No:
		return No
	}
	return Unknown
}
