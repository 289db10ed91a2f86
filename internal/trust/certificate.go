package trust

import (
	"hopperful/fact"

	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"net"
	"os"
	"slices"
	"strings"
	"sync"
	"time"
)

// A certificate holds for holds and is made anew when less than left of that is left,
// or when the computer has other addresses, which is looked at every look.
const (
	holds = 90 * 24 * time.Hour
	left  = 30 * 24 * time.Hour
	look  = time.Minute
)

// TLS is how to talk to callers: with a certificate for localhost, the hosts and the
// addresses, which are asked for anew now and then.
func (a *Authority) TLS(addresses func() []net.IP) *tls.Config {
	l := &leaf{a: a, addresses: addresses}
	return config(l.get)
}

func config(get func(*tls.ClientHelloInfo) (*tls.Certificate, error)) *tls.Config {
	return &tls.Config{MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}, GetCertificate: get}
}

// leaf is the certificate of the moment.
type leaf struct {
	a         *Authority
	addresses func() []net.IP

	mu     sync.Mutex
	cert   *tls.Certificate
	until  time.Time
	of     []net.IP
	looked time.Time
}

func (l *leaf) get(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	now := l.a.now()
	if l.cert != nil && now.Sub(l.looked) < look && now.Before(l.until.Add(-left)) {
		return l.cert, nil
	}
	ips := vouched(l.addresses())
	if l.cert == nil || !now.Before(l.until.Add(-left)) || !slices.EqualFunc(ips, l.of, net.IP.Equal) {
		cert, until, err := l.a.issue(ips)
		if err != nil {
			return nil, err
		}
		l.cert, l.until, l.of = cert, until, ips
	}
	l.looked = now
	return l.cert, nil
}

// vouched are the addresses of a local network among them, in order.
func vouched(all []net.IP) []net.IP {
	var ips []net.IP
	for _, ip := range append([]net.IP{net.IPv4(127, 0, 0, 1), net.IPv6loopback}, all...) {
		inside := slices.ContainsFunc(localNets, func(n *net.IPNet) bool { return n.Contains(ip) })
		if inside && !slices.ContainsFunc(ips, ip.Equal) {
			ips = append(ips, ip)
		}
	}
	slices.SortFunc(ips, func(x, y net.IP) int { return strings.Compare(x.String(), y.String()) })
	return ips
}

// issue makes a certificate; its key lives in memory only.
func (a *Authority) issue(ips []net.IP) (*tls.Certificate, time.Time, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, time.Time{}, err
	}
	serial, err := serialNumber()
	if err != nil {
		return nil, time.Time{}, err
	}
	until := a.now().Add(holds)
	if until.After(a.cert.NotAfter) {
		until = a.cert.NotAfter
	}
	t := &x509.Certificate{SerialNumber: serial, Subject: pkix.Name{CommonName: "hopperful"}, NotBefore: a.now().Add(-skew), NotAfter: until,
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		DNSNames: append([]string{"localhost"}, a.hosts...), IPAddresses: ips}
	der, err := x509.CreateCertificate(rand.Reader, t, a.cert, &key.PublicKey, a.key)
	if err != nil {
		return nil, until, err
	}
	return &tls.Certificate{Certificate: [][]byte{der, a.cert.Raw}, PrivateKey: key}, until, nil
}

// Own is how to talk to callers with a certificate of the user's own. It is read anew
// when the file has changed, so that whoever renews it need not start again.
func Own(certFile, keyFile string, now func() time.Time) (*tls.Config, error) {
	o := &own{certFile: certFile, keyFile: keyFile, now: now}
	if err := o.load(); err != nil {
		return nil, &Refusal{fact.Say("trust.certificate_unusable", fact.Name("cert_file", certFile), fact.Name("key_file", keyFile), fact.Name("why", err.Error())),
			fact.Say("trust.do_pem_pair")}
	}
	return config(o.get), nil
}

type own struct {
	certFile, keyFile string
	now               func() time.Time

	mu      sync.Mutex
	cert    *tls.Certificate
	changed time.Time
	looked  time.Time
}

func (o *own) load() error {
	about, err := os.Stat(o.certFile)
	if err != nil {
		return err
	}
	cert, err := tls.LoadX509KeyPair(o.certFile, o.keyFile)
	if err != nil {
		return err
	}
	o.cert, o.changed, o.looked = &cert, about.ModTime(), o.now()
	return nil
}

func (o *own) get(*tls.ClientHelloInfo) (*tls.Certificate, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	if now := o.now(); now.Sub(o.looked) >= look {
		o.looked = now
		if about, err := os.Stat(o.certFile); err == nil && !about.ModTime().Equal(o.changed) {
			_ = o.load() // half written: the old one serves until it is whole
		}
	}
	return o.cert, nil
}
