package toolpath

import "math"

// summary closes the books.
func (m *machine) summary(x *lexer, c *chunks, k *clock) (Summary, error) {
	if c.cutOff {
		x.warn.add(CutOff, x.line)
	}
	if x.commands == 0 {
		if x.bad > 0 {
			return Summary{}, x.tooManyBad()
		}
		return Summary{}, &FormatError{Looks: NoCommand}
	}
	if x.bad*2 > x.blocks {
		return Summary{}, x.tooManyBad()
	}
	s := Summary{
		Time: m.time, TimeLimited: k.table.total, StartTime: k.table.start.time, ExtrudingTime: m.extruding,
		PrintLength: m.printLength, TravelLength: m.travel, Box: m.box, Bed: m.bed, Count: m.count,
		Loaded: m.loaded, Stated: x.stated,
	}
	s.Count.Bytes, s.Count.Lines, s.Count.Blocks = c.total, x.line, x.blocks
	s.Count.BadLines, s.Count.Checksums = x.bad, x.checksums
	m.sumTools(&s)
	if s.Volume == 0 {
		return Summary{}, ErrNoExtrusion
	}
	if m.extruding > 0 {
		s.MeanFlow = s.Volume / m.extruding
	}
	m.closeTable(&s, k)
	m.taken(&s)
	s.Warnings = m.warn.list(&x.warn)
	return s, nil
}

// sumTools lists the tools that did anything.
func (m *machine) sumTools(s *Summary) {
	for n := range m.ext.tools {
		t := &m.ext.tools[n]
		if t.volume == 0 && t.nozzle == 0 {
			continue
		}
		length := t.volume / (math.Pi / 4 * t.diameter * t.diameter)
		s.Tools = append(s.Tools, Tool{Number: n, Volume: t.volume, Filament: length,
			Diameter: t.diameter, Time: t.time, Nozzle: t.nozzle})
		s.Volume += t.volume
		s.Filament += length
	}
}

// closeTable brings the machine's and the clock's tables together and turns
// volumes in the window into flows.
func (m *machine) closeTable(s *Summary, k *clock) {
	l, c := &m.table, &k.table
	for i := range l.rows {
		l.rows[i].Time, l.rows[i].Peak = c.rows[i].time, c.rows[i].peak/m.opt.Window
	}
	s.Layers = l.rows
	s.StartVolume = l.start.Volume
	s.Peak = Peak{Flow: c.peak / m.opt.Window, Window: m.opt.Window, Line: c.peakLine, Layer: -1}
	if c.peakSerial >= 0 {
		s.Peak.Layer = c.peakSerial >> c.shift
		s.Peak.Z = l.rows[s.Peak.Layer].Z
	}
	if l.shift > 0 {
		m.warn.add(LayersMerged, l.rows[len(l.rows)-1].Line)
	}
	if math.IsInf(s.Box.Min[0], 1) {
		s.Box = Box{}
	}
}

// taken says how E was read.
func (m *machine) taken(s *Summary) {
	take := func(e EMeaning, from Origin, how Taken) { s.E, s.EFrom, s.Taken = e, from, how }
	switch {
	case m.opt.E == EFilament:
		take(EFilament, FromOption, GivenLength)
	case m.opt.E == EVolume && m.opt.Believed:
		take(EVolume, FromFile, StatedVolume)
	case m.opt.E == EVolume:
		take(EVolume, FromOption, GivenVolume)
	case m.opt.E == ERevolution:
		take(ERevolution, FromOption, GivenTurns)
	case m.ext.usedVolume && m.ext.usedLength:
		take(EMixed, FromFile, PartlyVolume)
	case m.ext.usedVolume:
		take(EVolume, FromFile, CommandedVolume)
	case m.opt.Believed:
		take(EFilament, FromFile, StatedLength)
	case m.ext.tools[s.Tools[0].Number].diameter != m.opt.Diameter:
		take(EFilament, FromFile, CommandedLength)
	default:
		take(EFilament, FromDefault, UsualLength)
	}
}
