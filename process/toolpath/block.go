package toolpath

// A block is one command with its words, as the lexer hands it to the machine.
// Blocks are reused: a value counts only where its bit in has is set, so the
// lexer need not clear the rest. A block takes 128 bytes with the words of a
// straight move in the first half: one cache line of the two.
type block struct {
	line int64
	code int32  // ten times the G or M number, so that G92.1 is 921
	has  uint16 // words with a number, one bit a slot
	bare uint16 // words without one, as in "G28 X"
	op   op     // which kind of command code belongs to
	v    [slots]float64
}

type op uint8

const (
	opG op = iota
	opM
	opTool   // T alone selects a tool
	opModal  // words without a command: the last motion goes on
	opFinish // M2 or M30: the program ends
)

// Slots of the words a machine looks at. Letters beyond share slotOther.
const (
	slotX = iota
	slotY
	slotZ
	slotE
	slotF
	slotI
	slotJ
	slotK
	slotR
	slotP
	slotS
	slotT
	slotD
	slots
	slotOther = slots // noted in has, its number is not kept
	slotNone  = 255
)

const (
	hasX     = 1 << slotX
	hasY     = 1 << slotY
	hasZ     = 1 << slotZ
	hasE     = 1 << slotE
	hasF     = 1 << slotF
	hasI     = 1 << slotI
	hasJ     = 1 << slotJ
	hasK     = 1 << slotK
	hasR     = 1 << slotR
	hasP     = 1 << slotP
	hasS     = 1 << slotS
	hasT     = 1 << slotT
	hasD     = 1 << slotD
	hasOther = 1 << slotOther
	hasXYZ   = hasX | hasY | hasZ
)

// slotOf gives a word letter its slot, in both cases; G, M and N are not words.
var slotOf = func() (t [256]uint8) {
	for i := range t {
		t[i] = slotNone
	}
	for c := byte('A'); c <= 'Z'; c++ {
		t[c] = slotOther
	}
	for i, c := range []byte("XYZEFIJKRPSTD") {
		t[c] = uint8(i)
	}
	t['G'], t['M'], t['N'] = slotNone, slotNone, slotNone
	for c := byte('A'); c <= 'Z'; c++ {
		t[c+'a'-'A'] = t[c]
	}
	return t
}()

// batchSize blocks travel together, with as many legs: few enough to stay in the
// second-level cache.
const batchSize = 2048

// mostInLine blocks come of one line: a tool, eight M words, eight G words, the end.
const mostInLine = 20

type batch struct {
	blocks [batchSize]block // first, so that they stay aligned
	n      int
}

// room tells that another line fits.
func (b *batch) room() bool { return b.n <= batchSize-mostInLine }
