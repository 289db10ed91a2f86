package toolpath

// zeroCelsius in kelvin, exact by definition.
const zeroCelsius = 273.15

// doM carries out a machine word.
func (m *machine) doM(k *block) {
	switch k.code {
	case 820, 830:
		m.ext.setRelative(k.code == 830)
	case 1040, 1090:
		m.heat(k)
	case 1400, 1900:
		if t, ok := temperature(k); ok {
			m.bed = max(m.bed, t)
		}
	case 2000:
		m.volumetric(k)
	case 2010, 2030, 2040:
		if !m.limit.set(k, m.unit, &m.warn) {
			m.warn.add(BadLimit, k.line)
		}
	case 2200:
		if f, ok := m.factor(k); ok {
			m.feedFactor = f
			m.feed = m.feedWord * f
			if f != 1 {
				m.warn.add(FeedFactor, k.line)
			}
		}
	case 2210:
		if f, ok := m.factor(k); ok {
			m.ext.setFlow(k, f)
			if f != 1 {
				m.warn.add(FlowFactor, k.line)
			}
		}
	}
}

// temperature reads S, or R where the printer is to wait for cooling as well.
func temperature(k *block) (float64, bool) {
	for _, slot := range [...]int{slotS, slotR} {
		if k.has&(1<<slot) != 0 {
			c := k.v[slot]
			return c + zeroCelsius, c > 0 && c < 1000
		}
	}
	return 0, false
}

// heat notes a nozzle temperature.
func (m *machine) heat(k *block) {
	t, ok := temperature(k)
	if !ok {
		return
	}
	tool := m.ext.at
	if k.has&hasT != 0 {
		n, ok := toolNumber(k.v[slotT])
		if !ok {
			m.warn.add(BadTool, k.line)
			return
		}
		tool = n
	}
	m.ext.tools[tool].nozzle = max(m.ext.tools[tool].nozzle, t)
}

// factor reads a percentage in S.
func (m *machine) factor(k *block) (float64, bool) {
	if k.has&hasS == 0 {
		return 0, false
	}
	f := k.v[slotS] / 100
	if f < 0.01 || f > 10 {
		m.warn.add(BadLimit, k.line)
		return 0, false
	}
	return f, true
}

// volumetric takes M200: D above zero makes E a volume, D of zero or S0 a length.
func (m *machine) volumetric(k *block) {
	if k.has&(hasD|hasS) == 0 {
		return
	}
	if m.opt.E != EUnsaid {
		m.warn.add(VolumetricIgnored, k.line)
		return
	}
	if k.has&hasD != 0 {
		d := k.v[slotD] * m.unit
		if d != 0 && (d < 1e-4 || d > 0.02) {
			m.warn.add(BadLimit, k.line)
			return
		}
	}
	if !m.ext.setVolumetric(k, m.unit) {
		m.warn.add(BadTool, k.line)
	}
}

// selectTool takes a T word.
func (m *machine) selectTool(k *block) {
	n, ok := toolNumber(k.v[slotT])
	if !ok {
		m.warn.add(BadTool, k.line)
		return
	}
	m.ext.selectTool(n)
}

// toolNumber checks a T word.
func toolNumber(v float64) (int, bool) {
	n := int(v)
	return n, v >= 0 && v < mostTools && float64(n) == v
}
