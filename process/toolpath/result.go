package toolpath

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// summary closes the books.
func (m *machine) summary(x *lexer, c *chunks, k *clock) (Summary, error) {
	if c.cutOff {
		x.warn.add(CutOff, x.line)
	}
	if x.commands == 0 {
		if x.bad > 0 {
			return Summary{}, x.tooManyBad()
		}
		return Summary{}, &FormatError{Looks: "text without a single G or M word", Hint: "choose the G-code file"}
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
	if math.IsInf(s.Box.Min[0], 0) {
		s.Box = Box{}
	}
}

// taken says how E was read.
func (m *machine) taken(s *Summary) {
	const otherwise = "say otherwise with the option for the meaning of E"
	d := m.opt.Diameter * 1e3
	switch {
	case m.opt.E == EFilament:
		s.E, s.EFrom = EFilament, FromOption
		s.Taken = fmt.Sprintf("E read as filament length, %g mm thick, as given", d)
	case m.opt.E == EVolume && m.opt.Believed:
		s.E, s.EFrom = EVolume, FromFile
		s.Taken = "E read as volume in mm³, because that is what comes to the filament the file says it uses; " + otherwise
	case m.opt.E == EVolume:
		s.E, s.EFrom = EVolume, FromOption
		s.Taken = "E read as volume in mm³, as given"
	case m.opt.E == ERevolution:
		s.E, s.EFrom = ERevolution, FromOption
		s.Taken = fmt.Sprintf("E read as revolutions of %g mm³ each, as given", m.opt.PerRevolution*1e9)
	case m.ext.usedVolume && m.ext.usedLength:
		s.E, s.EFrom = EMixed, FromFile
		s.Taken = "E read as volume in mm³ where M200 in the file says so and as filament length elsewhere; " + otherwise
	case m.ext.usedVolume:
		s.E, s.EFrom = EVolume, FromFile
		s.Taken = "E read as volume in mm³, because M200 in the file says so; " + otherwise
	default:
		s.E, s.EFrom = EFilament, FromDefault
		s.Taken = fmt.Sprintf("E read as filament length, %g mm thick: the usual default; %s", d, otherwise)
		if m.opt.Believed {
			s.Taken = "E read as filament length, " + m.thickness(s) + " thick as the file says; " + otherwise
			s.EFrom = FromFile
		} else if m.ext.tools[s.Tools[0].Number].diameter != m.opt.Diameter {
			s.Taken = "E read as filament length, thick as M200 in the file says; " + otherwise
			s.EFrom = FromFile
		}
	}
}

// thickness names the filament of each tool once.
func (m *machine) thickness(s *Summary) string {
	var all []string
	for _, t := range s.Tools {
		if text := fmt.Sprintf("%.3g mm", t.Diameter*1e3); !slices.Contains(all, text) {
			all = append(all, text)
		}
	}
	return strings.Join(all, " and ")
}
