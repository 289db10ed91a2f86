package store

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"testing"
)

// FuzzProbe: whatever a file begins with, it is a shop by its header or refused
// with what to do, and a file that only looks like one does not open.
func FuzzProbe(f *testing.F) {
	header := make([]byte, headerLength)
	copy(header, magic)
	binary.BigEndian.PutUint32(header[applicationAt:], applicationID)
	for _, text := range [][]byte{header, header[:60], append(bytes.Clone(header), make([]byte, 4000)...), []byte("letter"), nil} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		path := filepath.Join(t.TempDir(), "x")
		if err := os.WriteFile(path, text, 0o644); err != nil {
			t.Fatal(err)
		}
		_, err := Verify(t.Context(), path)
		var own *Error
		if err != nil && (!errors.As(err, &own) || own.What.Empty() || own.Advice.Empty()) {
			t.Errorf("%v says not what to do", err)
		}
		s, err := Open(t.Context(), path, Options{ReadOnly: true})
		if err == nil {
			s.Close()
		} else if !errors.As(err, &own) {
			t.Errorf("%v", err)
		}
	})
}
