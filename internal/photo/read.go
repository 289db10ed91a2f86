package photo

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	_ "image/jpeg" // what phones and scanners write
	_ "image/png"
	"io"
	"runtime/debug"
	"sync"

	"hopperful/process/grain"
)

const (
	// MostBytes is the largest file that is read: several times what a phone writes.
	MostBytes = 40 << 20
	// mostMemory bounds what the picture unpacks to. Judgement: what leaves the whole
	// program under 500 MB.
	mostMemory = 300 << 20
)

// ErrHEIC is a picture that phones write and this program does not read.
var ErrHEIC = errors.New("a HEIC picture")

// Read reads a picture: JPEG or PNG. Its size is read before its pixels, so that
// a small file that unpacks to gigabytes costs nothing.
//
// Errors: *grain.Refusal TooLarge, NotRead; ErrHEIC for HEIC, within NotRead.
func Read(r io.Reader) (image.Image, error) {
	data, err := io.ReadAll(io.LimitReader(r, MostBytes+1))
	if err != nil {
		return nil, fmt.Errorf("reading the picture: %w", err)
	}
	return Decode(data)
}

// oneAtATime is held while a picture is measured: two of 50 million pixels would take
// twice the memory and be no sooner done.
var oneAtATime sync.Mutex

// eagerCollection is how much garbage, of what is in use, is left lying while a
// picture is measured, in per cent: rasters come and go, and at the usual 100 one of
// 50 million pixels took 515 MB, so 346 MB and no more time (Benchmark50Megapixels).
const eagerCollection = 40

// Measure reads a picture and measures its grains, one picture at a time.
//
// Errors: as Read and grain.Measure.
func Measure(r io.Reader, opt grain.Options) (*grain.Measured, error) {
	oneAtATime.Lock()
	defer oneAtATime.Unlock()
	defer debug.SetGCPercent(debug.SetGCPercent(eagerCollection))
	if opt.Watch != nil {
		opt.Watch(grain.Reading)
	}
	img, err := Read(r)
	if err != nil {
		return nil, err
	}
	return grain.Measure(img, opt)
}

// Decode is Read for bytes at hand.
//
// Errors: as Read.
func Decode(data []byte) (image.Image, error) {
	if len(data) > MostBytes {
		return nil, &grain.Refusal{Code: grain.TooLarge, Value: float64(len(data)), Limit: MostBytes, Unit: "B"}
	}
	facts, kind, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		refusal := &grain.Refusal{Code: grain.NotRead}
		if heic(data) {
			return nil, errors.Join(refusal, ErrHEIC)
		}
		return nil, errors.Join(refusal, err)
	}
	if facts.Width < 1 || facts.Height < 1 || facts.Width > grain.MostPixels/facts.Height {
		return nil, &grain.Refusal{Code: grain.TooLarge, Value: float64(facts.Width) * float64(facts.Height), Limit: grain.MostPixels, Unit: "px"}
	}
	if need := memory(data, kind, facts); need > mostMemory {
		return nil, &grain.Refusal{Code: grain.TooLarge, Value: float64(need), Limit: mostMemory, Unit: "B"}
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, errors.Join(&grain.Refusal{Code: grain.NotRead}, err)
	}
	return img, nil
}

// heic tells a HEIC or AVIF file by its first box.
func heic(data []byte) bool {
	return len(data) > 12 && string(data[4:8]) == "ftyp" && bytes.ContainsAny(data[8:9], "hm a")
}

// memory is what decoding a picture takes: its pixels, and for a progressive JPEG
// all its coefficients of four bytes as well.
func memory(data []byte, kind string, facts image.Config) int {
	pixels := facts.Width * facts.Height
	if kind != "jpeg" {
		return 8 * pixels // sixteen bits a channel at worst; half of it as a rule
	}
	progressive, perPixel := frame(data)
	need := int(perPixel * float64(pixels))
	if progressive {
		need *= 5
	}
	return need
}

// frame looks for the frame header of a JPEG: whether it is progressive, and how
// many samples a pixel has.
func frame(data []byte) (progressive bool, perPixel float64) {
	for i := 2; i+4 <= len(data); {
		if data[i] != 0xff {
			i++
			continue
		}
		marker := data[i+1]
		if marker == 0xff || marker == 0 || marker >= 0xd0 && marker <= 0xd9 {
			i++
			continue
		}
		n := int(binary.BigEndian.Uint16(data[i+2:]))
		if marker < 0xc0 || marker > 0xc2 {
			i += 2 + n
			continue
		}
		progressive = marker == 0xc2
		var area []float64
		most := 0.0
		for k := 0; i+10+3*k+2 < len(data) && k < int(data[i+9]); k++ {
			hv := data[i+11+3*k]
			area = append(area, float64(hv>>4)*float64(hv&15))
			most = max(most, area[k])
		}
		for _, a := range area {
			perPixel += a / max(most, 1)
		}
		return progressive, max(perPixel, 1)
	}
	return false, 3
}
