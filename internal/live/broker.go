package live

import (
	"hopperful/fact"

	"bytes"
	"context"
	"crypto/tls"
	"fmt"
	"log/slog"
	"net"
	"time"

	mqtt "github.com/mochi-mqtt/server/v2"
	"github.com/mochi-mqtt/server/v2/listeners"
	"github.com/mochi-mqtt/server/v2/packets"
)

// Bounds of the shop's own broker.
const (
	mostClients  = 64
	mostPacket   = 8 << 10
	mostInflight = 64
	sessionHolds = 3600 // s
	writesWait   = 256
)

// guard stands at the door of the shop's own broker. What is sent goes to the program alone
// besides those who listen there; nothing is kept for later.
type guard struct {
	mqtt.HookBase
	gate *gate
	take func(Message)
	now  func() time.Time
}

// ID names it.
func (g *guard) ID() string { return "door" }

// Provides says what it looks at.
func (g *guard) Provides(b byte) bool {
	return bytes.Contains([]byte{mqtt.OnConnectAuthenticate, mqtt.OnACLCheck, mqtt.OnPublish, mqtt.OnPublished, mqtt.OnWill, mqtt.OnWillSent}, []byte{b})
}

// OnConnectAuthenticate lets in who knows a password.
func (g *guard) OnConnectAuthenticate(cl *mqtt.Client, pk packets.Packet) bool {
	address, _, err := net.SplitHostPort(cl.Net.Remote)
	if err != nil {
		address = cl.Net.Remote
	}
	return g.gate.lets(address, string(pk.Connect.Username), string(pk.Connect.Password))
}

// OnACLCheck keeps the broker's own topics from being written.
func (g *guard) OnACLCheck(_ *mqtt.Client, topic string, write bool) bool {
	return !write || len(topic) > 0 && topic[0] != '$'
}

// OnPublish takes the wish to be kept off a message.
func (g *guard) OnPublish(_ *mqtt.Client, pk packets.Packet) (packets.Packet, error) {
	pk.FixedHeader.Retain = false
	return pk, nil
}

// OnWill does the same with a last will.
func (g *guard) OnWill(_ *mqtt.Client, will mqtt.Will) (mqtt.Will, error) {
	will.Retain = false
	return will, nil
}

// OnPublished hands a message in.
func (g *guard) OnPublished(_ *mqtt.Client, pk packets.Packet) {
	g.take(Message{Topic: pk.TopicName, Payload: bytes.Clone(pk.Payload), Again: pk.FixedHeader.Dup, At: g.now()})
}

// OnWillSent hands a last will in.
func (g *guard) OnWillSent(_ *mqtt.Client, pk packets.Packet) {
	g.take(Message{Topic: pk.TopicName, Payload: bytes.Clone(pk.Payload), At: g.now()})
}

// serveBroker runs the shop's own broker until the context ends. listening is told the
// address once it is reached.
func serveBroker(ctx context.Context, own Own, encrypted *tls.Config, now func() time.Time, log *slog.Logger, take func(Message), listening func(net.Addr)) error {
	if len(own.Users) == 0 {
		return &Refusal{fact.Say("live.broker_without_user"), fact.Say("live.do_add_user")}
	}
	l, err := (&net.ListenConfig{}).Listen(ctx, "tcp", own.Listen)
	if err != nil {
		return fmt.Errorf("the broker's address %s: %w", own.Listen, err)
	}
	if own.Open() && !own.Plain {
		if encrypted == nil {
			l.Close()
			return &Refusal{fact.Say("live.broker_unencrypted"), fact.Say("live.do_serve_anew")}
		}
		conf := encrypted.Clone()
		conf.NextProtos = nil // they are those of pages
		l = tls.NewListener(l, conf)
	}
	capabilities := mqtt.NewDefaultServerCapabilities()
	capabilities.MaximumClients, capabilities.MaximumPacketSize = mostClients, mostPacket
	capabilities.MaximumInflight, capabilities.ReceiveMaximum = mostInflight, mostInflight
	capabilities.MaximumSessionExpiryInterval, capabilities.MaximumClientWritesPending = sessionHolds, writesWait
	s := mqtt.New(&mqtt.Options{Capabilities: capabilities, Logger: slog.New(quiet{log.Handler()}), SysTopicResendInterval: 3600})
	door, err := newGate(own.Users, now)
	if err == nil {
		err = s.AddHook(&guard{gate: door, take: take, now: now}, nil)
	}
	if err == nil {
		err = s.AddListener(listeners.NewNet("sensors", l))
	}
	if err == nil {
		err = s.Serve()
	}
	if err != nil {
		l.Close()
		return err
	}
	listening(l.Addr())
	<-ctx.Done()
	if err := s.Close(); err != nil {
		log.Info("the broker closed", "error", err)
	}
	return nil
}

// quiet passes on only what somebody has to know: the library tells of every caller.
type quiet struct{ slog.Handler }

// Enabled leaves all below errors out.
func (q quiet) Enabled(ctx context.Context, level slog.Level) bool {
	return level >= slog.LevelError && q.Handler.Enabled(ctx, level)
}

// WithAttrs keeps it quiet.
func (q quiet) WithAttrs(attrs []slog.Attr) slog.Handler { return quiet{q.Handler.WithAttrs(attrs)} }

// WithGroup keeps it quiet.
func (q quiet) WithGroup(name string) slog.Handler { return quiet{q.Handler.WithGroup(name)} }
