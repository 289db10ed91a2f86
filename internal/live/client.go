package live

import (
	"context"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"math"
	mathrand "math/rand/v2"
	"os"
	"strings"
	"time"

	paho "github.com/eclipse/paho.mqtt.golang"
	"github.com/eclipse/paho.mqtt.golang/packets"

	"hopperful/plan/sensing"
)

// How a broker that is not reached is tried again: twice as late each time, not all at once.
const (
	firstWait   = time.Second
	longestWait = time.Minute
	connectTime = 10 * time.Second
	keepAlive   = 20 * time.Second
)

// waitFor is how long to wait before try n, from 0 on, with chance from 0 to 1.
func waitFor(n int, chance float64) time.Duration {
	wait := float64(firstWait) * math.Pow(2, math.Min(float64(n), 10))
	return time.Duration(math.Min(wait, float64(longestWait)) * (0.75 + 0.5*chance))
}

// listen takes messages from a broker until the context ends, and comes back to it for as
// long as that takes. all adds every topic of the broker to the listed ones.
func listen(ctx context.Context, b Broker, topics []string, all bool, now func() time.Time, take func(Message), linked func(sensing.Link, error)) {
	for try := 0; ctx.Err() == nil; try++ {
		linked(sensing.LinkConnecting, nil)
		held, err := connected(ctx, b, topics, all, now, take, linked)
		if ctx.Err() != nil {
			return
		}
		if held > longestWait {
			try = 0
		}
		linked(sensing.LinkDown, why(err))
		select {
		case <-ctx.Done():
		case <-time.After(waitFor(try, mathrand.Float64())):
		}
	}
}

// What brokers say no with.
var (
	errRefused = errors.New("the broker refuses this user or password")
	errClosed  = errors.New("the broker closed the connection")
)

// why is what went wrong.
func why(err error) error {
	switch {
	case err == nil:
		return errClosed
	case errors.Is(err, packets.ErrorRefusedBadUsernameOrPassword), errors.Is(err, packets.ErrorRefusedNotAuthorised):
		return errRefused
	}
	return err
}

// connected holds one connection, and returns how long it held.
func connected(ctx context.Context, b Broker, topics []string, all bool, now func() time.Time, take func(Message), linked func(sensing.Link, error)) (time.Duration, error) {
	o, err := b.options()
	if err != nil {
		return 0, err
	}
	lost := make(chan error, 1)
	o.SetConnectionLostHandler(func(_ paho.Client, err error) { lost <- err })
	handler := func(_ paho.Client, m paho.Message) {
		take(Message{Topic: m.Topic(), Payload: m.Payload(), Retained: m.Retained(), Again: m.Duplicate(), At: now()})
	}
	o.SetDefaultPublishHandler(handler)
	c := paho.NewClient(o)
	defer c.Disconnect(100)
	if err := done(ctx, c.Connect()); err != nil {
		return 0, err
	}
	since := now()
	filters := map[string]byte{}
	for _, t := range topics {
		filters[t] = 1
	}
	if all {
		filters["#"] = 0
	}
	if len(filters) > 0 {
		token := c.SubscribeMultiple(filters, handler)
		if err := done(ctx, token); err != nil {
			return 0, err
		}
		if s, ok := token.(*paho.SubscribeToken); ok {
			for topic, code := range s.Result() {
				if code > 2 {
					return 0, fmt.Errorf("the broker does not let this user listen to %s", topic)
				}
			}
		}
	}
	linked(sensing.LinkUp, nil)
	select {
	case <-ctx.Done():
		return now().Sub(since), nil
	case err := <-lost:
		return now().Sub(since), err
	}
}

func done(ctx context.Context, t paho.Token) error {
	select {
	case <-t.Done():
		return t.Error()
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(connectTime):
		return errors.New("the broker does not answer")
	}
}

// options are how a broker is called.
func (b Broker) options() (*paho.ClientOptions, error) {
	o := paho.NewClientOptions()
	address := strings.Replace(strings.Replace(b.URL, "mqtts://", "ssl://", 1), "mqtt://", "tcp://", 1)
	o.AddBroker(address)
	o.SetClientID("hopperful-" + strings.ToLower(rand.Text()[:10]))
	o.SetUsername(b.User)
	o.SetPassword(b.Password)
	o.SetCleanSession(true) // what was sent while we slept is no reading of now
	o.SetAutoReconnect(false)
	o.SetConnectTimeout(connectTime)
	o.SetKeepAlive(keepAlive)
	o.SetOrderMatters(true)
	o.SetProtocolVersion(4)
	if strings.HasPrefix(address, "ssl://") {
		conf := &tls.Config{MinVersion: tls.VersionTLS12}
		if b.CA != "" {
			text, err := os.ReadFile(b.CA)
			if err != nil {
				return nil, err
			}
			conf.RootCAs = x509.NewCertPool()
			if !conf.RootCAs.AppendCertsFromPEM(text) {
				return nil, fmt.Errorf("%s holds no certificate", b.CA)
			}
		}
		o.SetTLSConfig(conf)
	}
	return o, nil
}
