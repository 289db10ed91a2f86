package cli

import (
	"errors"
	"fmt"
	"net"

	"github.com/spf13/cobra"

	"hopperful/fact"
	"hopperful/internal/trust"
	"hopperful/internal/web"
)

// encryption says whether and how the pages are served over HTTPS.
type encryption struct {
	https     bool
	cert, key string
}

func (e *encryption) flags(c *cobra.Command) {
	f := c.Flags()
	f.BoolVar(&e.https, "https", false, "")
	f.StringVar(&e.cert, "cert", "", "")
	f.StringVar(&e.key, "key", "", "")
}

// on reports whether HTTPS is spoken.
func (e *encryption) on() bool { return e.https || e.cert != "" }

// open makes what HTTPS needs, nil where it is not wanted.
func (e *encryption) open(c *cobra.Command, env *Env, shop string, hosts []string, at net.Addr) (*web.Secure, error) {
	switch {
	case (e.cert == "") != (e.key == ""):
		return nil, usagef(c, fact.Say("cli.cert_with_key"))
	case e.https && e.cert != "":
		return nil, usagef(c, fact.Say("cli.https_or_cert"))
	case !e.on():
		return nil, nil
	}
	secure := &web.Secure{Addresses: func() []string { return reachedBy(at, hosts) }}
	if e.cert != "" {
		conf, err := trust.Own(e.cert, e.key, env.Now)
		secure.TLS = conf
		return secure, mendable(err)
	}
	a, err := trust.Open(shop+trust.Ending, hosts, env.Now)
	if err != nil {
		return nil, mendable(err)
	}
	secure.TLS = a.TLS(func() []net.IP { return addressesOf(at) })
	secure.Certificate, secure.Fingerprint = a.Certificate(), a.Fingerprint()
	fmt.Fprintln(env.Err, env.speaks().Line("cli.fingerprint", fact.Name("fingerprint", secure.Fingerprint)))
	return secure, nil
}

// mendable is a refusal in the words of the command line.
func mendable(err error) error {
	var r *trust.Refusal
	if errors.As(err, &r) {
		return &failure{what: r.What, advice: r.Advice, err: err}
	}
	return err
}

// addressesOf are the addresses that reach what listens at one, or at all of them.
func addressesOf(at net.Addr) []net.IP {
	host, _, err := net.SplitHostPort(at.String())
	ip := net.ParseIP(host)
	if err != nil || ip != nil && !ip.IsUnspecified() {
		return []net.IP{ip}
	}
	return everyAddress()
}

// everyAddress are the addresses this computer has.
func everyAddress() (ips []net.IP) {
	all, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	for _, a := range all {
		if n, ok := a.(*net.IPNet); ok {
			ips = append(ips, n.IP)
		}
	}
	return ips
}

// reachedBy are HOST:PORT of the pages, names first, then addresses of the network
// before those of this computer alone.
func reachedBy(at net.Addr, hosts []string) []string {
	_, port, err := net.SplitHostPort(at.String())
	if err != nil {
		return nil
	}
	var names, far, near []string
	for _, h := range hosts {
		names = append(names, net.JoinHostPort(h, port))
	}
	for _, ip := range addressesOf(at) {
		switch {
		case ip == nil || ip.IsLinkLocalUnicast():
		case ip.IsLoopback():
			near = append(near, net.JoinHostPort(ip.String(), port))
		case ip.To4() != nil:
			far = append([]string{net.JoinHostPort(ip.String(), port)}, far...)
		default:
			far = append(far, net.JoinHostPort(ip.String(), port))
		}
	}
	return append(append(names, far...), near...)
}
