package toolpath

// readsM holds the M numbers the machine looks at, times ten.
var readsM = map[int32]bool{
	20: true, 60: true, 300: true, 820: true, 830: true,
	1040: true, 1090: true, 1400: true, 1900: true,
	2000: true, 2010: true, 2030: true, 2040: true, 2200: true, 2210: true,
}

// lastMillingM is the largest M number of RS-274/NGC that can stand beside a
// motion, but for M30, M48, M49 and M60, which take no words.
const lastMillingM = 90

// takesText reports whether what follows an M word need not be words at all:
// printers' own commands carry messages and file names.
func takesText(code int32) bool {
	return code > lastMillingM && !readsM[code]
}

// keepsState holds the G numbers, times ten, that set a state or do nothing
// here: they take no words of their own, so a motion may stand beside them.
var keepsState = map[int32]bool{
	170: true, 180: true, 190: true, 200: true, 210: true,
	400: true, 410: true, 420: true, 430: true, 431: true, 490: true,
	530: true, 540: true, 550: true, 560: true, 570: true, 580: true, 590: true,
	591: true, 592: true, 593: true, 610: true, 611: true, 640: true, 690: true, 800: true,
	900: true, 901: true, 910: true, 911: true, 930: true, 940: true, 950: true, 970: true, 980: true, 990: true,
}

// hand gives the gathered words on as blocks, in the order in which RS-274/NGC
// carries them out: tool, machine words, states, then the one command that
// takes the axis words.
func (x *lexer) hand(line []byte) {
	w := &x.words
	carrier, carriers := int32(0), 0
	for _, g := range w.g[:w.ng] {
		if !keepsState[g] {
			carrier = g
			carriers++
		}
	}
	if carriers > 1 {
		x.fail(line, 0, TwoMotions)
		return
	}
	if carriers == 1 && carrier <= 30 && w.bare != 0 {
		x.fail(line, 0, NoNumber)
		return
	}
	x.blocks++
	if w.ng+w.nm > 0 {
		x.commands++
	}
	alone := w.ng == 0 && w.nm == 0
	if w.has&hasT != 0 && (w.toolFirst || alone || x.changesTool()) {
		x.emit(opTool, 0, &w.block)
	}
	finish := false
	for _, m := range w.m[:w.nm] {
		switch {
		case m == 20 || m == 300:
			finish = !w.text
		case readsM[m]:
			x.emit(opM, m, &w.block)
		}
	}
	for _, g := range w.g[:w.ng] {
		if keepsState[g] {
			x.emit(opG, g, &w.block)
		}
	}
	switch {
	case carriers == 1:
		x.emit(opG, carrier, &w.block)
	case w.nm == 0 && w.has&(hasXYZ|hasE|hasI|hasJ|hasK|hasF) != 0:
		x.emit(opModal, 0, &w.block)
	}
	if finish {
		x.emit(opFinish, 0, &w.block)
	}
}

// changesTool reports whether M6 stands in the line.
func (x *lexer) changesTool() bool {
	for _, m := range x.words.m[:x.words.nm] {
		if m == 60 {
			return true
		}
	}
	return false
}
