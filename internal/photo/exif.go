package photo

import (
	"bytes"
	"encoding/binary"
)

// orientation is how the camera was held, by what it wrote into a JPEG (Exif 2.3,
// tag 0x0112 of the first directory); 1, upright, where nothing sensible stands.
func orientation(data []byte) int {
	for i := 2; i+4 <= len(data) && data[i] == 0xff; {
		marker, n := data[i+1], int(binary.BigEndian.Uint16(data[i+2:]))
		if marker == 0xda || n < 2 || i+2+n > len(data) {
			return 1
		}
		if body := data[i+4 : i+2+n]; marker == 0xe1 && bytes.HasPrefix(body, []byte("Exif\x00\x00")) {
			return orientationIn(body[6:])
		}
		i += 2 + n
	}
	return 1
}

// orientationIn looks through the first directory of a TIFF header.
func orientationIn(tiff []byte) int {
	var order binary.ByteOrder = binary.BigEndian
	switch {
	case len(tiff) < 8:
		return 1
	case bytes.HasPrefix(tiff, []byte("II")):
		order = binary.LittleEndian
	case !bytes.HasPrefix(tiff, []byte("MM")):
		return 1
	}
	at := int64(order.Uint32(tiff[4:]))
	if at+2 > int64(len(tiff)) {
		return 1
	}
	entries := tiff[at+2:]
	for n := int(order.Uint16(tiff[at:])); n > 0 && len(entries) >= 12; n-- {
		if order.Uint16(entries) == 0x0112 {
			if how := int(order.Uint16(entries[8:])); how >= 1 && how <= 8 {
				return how
			}
			return 1
		}
		entries = entries[12:]
	}
	return 1
}
