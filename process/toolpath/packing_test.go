package toolpath

import "testing"

// The packings 2 and 3 look 2^11 and 2^12 bytes back, with four bits of how many: 'G', '1' and a copy of four
// from two back, written bit by bit, are G1G1G1 either way, and neither is read as the other.
func TestBothWindowsOfPackedText(t *testing.T) {
	t.Parallel()
	write := func(window int) []byte {
		var data []byte
		n := 0
		put := func(v, bits int) {
			for i := bits - 1; i >= 0; i-- {
				if n%8 == 0 {
					data = append(data, 0)
				}
				data[n/8] |= byte(v>>i&1) << (7 - n%8)
				n++
			}
		}
		for _, c := range "G1" {
			put(1, 1)
			put(int(c), 8)
		}
		put(0, 1)
		put(2-1, window)
		put(4-1, 4)
		put(1, 1)
		put('\n', 8)
		return data
	}
	const text = "G1G1G1\n"
	for packing, window := range map[uint16]int{2: 11, 3: 12} {
		if got, err := expand(packing, write(window), len(text)); err != nil || string(got) != text {
			t.Errorf("packing %d read %q, %v", packing, got, err)
		}
		if got, _ := expand(5-packing, write(window), len(text)); string(got) == text {
			t.Errorf("packing %d reads a window of %d bits", 5-packing, window)
		}
	}
	if got, err := expand(4, write(11), len(text)); err == nil {
		t.Errorf("packing 4 read %q", got)
	}
}
