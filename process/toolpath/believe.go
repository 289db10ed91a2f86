package toolpath

// Weighs what a file says of its filament against what its moves add up to.

import (
	"io"
	"math"
)

// How far apart two accounts of one file may lie before it is told: what is said
// to be used counts purging, skirts and rounding differently. A filament's
// diameter is said to two digits or three. Judgement.
const (
	sameUse      = 1.25
	sameDiameter = 1.02
)

// ReadBelieved reads a file as [Read] does and believes what it says of its filament:
// diameter, and whether E counts length or volume. The file is opened again
// and read once more where that differs from the usual defaults. What the caller
// says stands; where the file says otherwise a warning tells.
//
// Errors: what open returns, and those of [Read].
// TestBelieved holds it (own derivation).
func ReadBelieved(open func() (io.Reader, error), opt Options) (Summary, error) {
	read := func(o Options) (Summary, error) {
		r, err := open()
		if err != nil {
			return Summary{}, err
		}
		return Read(r, o)
	}
	s, err := read(opt)
	if err != nil {
		return s, err
	}
	if better, again := believe(opt, &s); again {
		if s, err = read(better); err != nil {
			return s, err
		}
	}
	s.contradict(opt)
	return s, nil
}

// believe gives the options the file speaks for, and whether they read it differently.
func believe(o Options, s *Summary) (Options, bool) {
	if o.E != EUnsaid || s.E != EFilament {
		return o, false // said by the caller, or by the commands of the file
	}
	st := s.Stated
	usual := o.Diameter
	if usual == 0 {
		usual = DefaultDiameter
	}
	asVolume := s.Filament * 1e-6 // a length in mm read as mm³
	better := o
	better.Believed = true
	if o.Diameter == 0 {
		better.Diameters = st.diameters()
	}
	used, known := st.use(better.Diameters, usual)
	asLength := 0.0
	for _, t := range s.Tools {
		d := at(better.Diameters, t.Number, usual)
		asLength += t.Filament * math.Pi / 4 * d * d
	}
	if st.InVolume || known && near(asVolume, used) && !near(asLength, used) {
		better.E = EVolume
		return better, true
	}
	for _, t := range s.Tools {
		if math.Abs(at(better.Diameters, t.Number, usual)-t.Diameter) > 1e-9 {
			return better, true
		}
	}
	return o, false
}

// diameters by tool: as stated, or what length and volume used come to.
func (st Stated) diameters() []float64 {
	if len(st.Diameter) > 0 {
		return st.Diameter
	}
	length, volume := sum(st.Length), sum(st.Volume)
	if d := math.Sqrt(4 * volume / (math.Pi * length)); length > 0 && d >= 1e-3 && d <= 5e-3 {
		return []float64{d}
	}
	return nil
}

// use is the volume the file says it uses [m³].
func (st Stated) use(diameters []float64, usual float64) (float64, bool) {
	switch {
	case sum(st.Volume) > 0:
		return sum(st.Volume), true
	case sum(st.Mass) > 0 && len(st.Density) > 0:
		v := 0.0
		for i, m := range st.Mass {
			v += m / at(st.Density, i, st.Density[0])
		}
		return v, true
	case sum(st.Length) > 0 && len(diameters) > 0:
		v := 0.0
		for i, l := range st.Length {
			d := at(diameters, i, usual)
			v += l * math.Pi / 4 * d * d
		}
		return v, true
	}
	return 0, false
}

// contradict warns where the file and its reading, or two things the file says, differ.
func (s *Summary) contradict(o Options) {
	st := s.Stated
	tell := func(of Of, said, found float64) {
		s.Warnings = append(s.Warnings, Warning{Kind: SaysOtherwise, Line: st.Line, Count: 1, Of: of, Said: said, Found: found})
	}
	said := st.diameters()
	if o.Diameter > 0 && len(said) > 0 && apart(at(said, s.Tools[0].Number, said[0]), o.Diameter, sameDiameter) {
		tell(Thickness, said[0], o.Diameter)
	}
	if o.E == EFilament && st.InVolume {
		tell(Meaning, 0, 0)
	}
	usual := s.Tools[0].Diameter
	if used, known := st.use(said, usual); known {
		if all := s.Volume + s.Loaded; apart(s.Volume, used, sameUse) && apart(all, used, sameUse) {
			tell(UsedVolume, used, s.Volume)
		}
		if m, d := sum(st.Mass), sum(st.Volume); m > 0 && d > 0 && len(st.Density) == 1 && apart(m, d*st.Density[0], sameUse) {
			tell(UsedMass, m, d*st.Density[0])
		}
	}
	if l := sum(st.Length); l > 0 && s.E == EFilament && apart(s.Filament, l, sameUse) && sum(st.Volume) == 0 && sum(st.Mass) == 0 && len(said) == 0 {
		tell(UsedLength, l, s.Filament)
	}
}

// near reports whether two accounts may be of one thing.
func near(a, b float64) bool { return !apart(a, b, sameUse) }

// apart reports whether two numbers differ by more than the factor.
func apart(a, b, factor float64) bool { return a > b*factor || b > a*factor }

// at is the number of a tool: its own, the only one there is, or the usual one.
func at(all []float64, tool int, usual float64) float64 {
	switch {
	case tool < len(all) && all[tool] > 0:
		return all[tool]
	case len(all) == 1 && all[0] > 0:
		return all[0]
	}
	return usual
}

func sum(all []float64) float64 {
	total := 0.0
	for _, v := range all {
		total += v
	}
	return total
}
