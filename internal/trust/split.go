package trust

import (
	"crypto/tls"
	"errors"
	"net"
	"sync"
	"time"
)

// Bounds of callers that have not said yet how they talk.
const (
	firstByte  = 10 * time.Second
	mostSilent = 256
	pause      = 50 * time.Millisecond
	handshake  = 0x16 // the first byte of TLS (RFC 8446, section 5.1)
)

// Split takes the callers of a listener apart by their first byte: those who talk TLS,
// and those who talk plainly, who can then be told where to go. Closing either closes
// both.
func Split(l net.Listener, conf *tls.Config) (secure, plain net.Listener) {
	s := &splitter{Listener: l, conf: conf, done: make(chan struct{}), silent: make(chan struct{}, mostSilent)}
	a, b := &half{s, make(chan net.Conn)}, &half{s, make(chan net.Conn)}
	go s.run(a.conns, b.conns)
	return a, b
}

type splitter struct {
	net.Listener
	conf   *tls.Config
	done   chan struct{}
	once   sync.Once
	err    error
	silent chan struct{} // a place for each caller that has not said a byte
}

func (s *splitter) run(secure, plain chan<- net.Conn) {
	for {
		c, err := s.Accept()
		if err != nil {
			if errors.Is(err, net.ErrClosed) {
				s.end(err)
				return
			}
			time.Sleep(pause) // too many files open, or a caller gone again: the next may do
			continue
		}
		select {
		case s.silent <- struct{}{}:
			go s.sort(c, secure, plain)
		default:
			c.Close()
		}
	}
}

// sort listens for one byte and hands the caller on.
func (s *splitter) sort(c net.Conn, secure, plain chan<- net.Conn) {
	p := &peeked{Conn: c}
	c.SetReadDeadline(time.Now().Add(firstByte))
	_, err := c.Read(p.first[:])
	c.SetReadDeadline(time.Time{})
	<-s.silent
	if err != nil {
		c.Close()
		return
	}
	var to chan<- net.Conn = plain
	var caller net.Conn = p
	if p.first[0] == handshake {
		to, caller = secure, tls.Server(p, s.conf)
	}
	select {
	case to <- caller:
	case <-s.done:
		c.Close()
	}
}

func (s *splitter) end(err error) {
	s.once.Do(func() { s.err = err; close(s.done) })
}

// half is one of the two listeners.
type half struct {
	*splitter
	conns chan net.Conn
}

// Accept waits for the next caller of this kind.
func (h *half) Accept() (net.Conn, error) {
	select {
	case c := <-h.conns:
		return c, nil
	case <-h.done:
		return nil, h.err
	}
}

// Close ends both halves.
func (h *half) Close() error {
	err := h.Listener.Close()
	h.end(net.ErrClosed)
	return err
}

// peeked is a caller whose first byte was read.
type peeked struct {
	net.Conn
	first [1]byte
	given bool
}

// Read gives the first byte back before the rest.
func (p *peeked) Read(b []byte) (int, error) {
	if p.given || len(b) == 0 {
		return p.Conn.Read(b)
	}
	p.given = true
	b[0] = p.first[0]
	return 1, nil
}
