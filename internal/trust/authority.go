package trust

import (
	"hopperful/fact"

	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"
)

// Ending ends the name of the folder beside a shop that holds its authority.
const Ending = ".trust"

// How long things hold. Judgement: the authority outlives the phones that trust it,
// a certificate is short, since it costs nothing to make another.
const (
	authorityYears = 10
	skew           = 24 * time.Hour // clocks in a workshop differ
	mostFile       = 64 << 10
)

// Authority vouches for the pages of one shop.
type Authority struct {
	cert  *x509.Certificate
	key   *ecdsa.PrivateKey
	hosts []string // names asked for
	now   func() time.Time
}

// Refusal is what a person can mend.
type Refusal struct{ What, Advice fact.Saying }

// Error is the code of what is wrong; the edges word it.
func (r *Refusal) Error() string { return r.What.Code }

// localNames are the ends of names that only a local network has (RFC 6762, RFC 8375,
// RFC 6761; lan and internal: common practice, no source).
var localNames = []string{"localhost", "local", "lan", "internal", "home.arpa"}

// localNets are the addresses of local networks (RFC 1918, RFC 6598, RFC 3927, RFC 4193,
// RFC 4291).
var localNets = func() []*net.IPNet {
	var all []*net.IPNet
	for _, text := range []string{"10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "100.64.0.0/10", "169.254.0.0/16", "127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128"} {
		_, n, err := net.ParseCIDR(text)
		if err != nil {
			panic(err) // the list above is fixed
		}
		all = append(all, n)
	}
	return all
}()

// Open finds the authority kept in a folder, or makes it there. It vouches for the
// hosts besides localhost and the addresses this computer has.
func Open(folder string, hosts []string, now func() time.Time) (*Authority, error) {
	a := &Authority{hosts: hosts, now: now}
	for _, h := range hosts {
		if !local(h) {
			return nil, &Refusal{fact.Say("trust.not_a_local_name", fact.Name("host", h)),
				fact.Say("trust.do_local_name")}
		}
	}
	err := a.read(folder)
	if errors.Is(err, fs.ErrNotExist) || err == nil && now().After(a.cert.NotAfter) {
		return a, a.make(folder)
	}
	return a, err
}

func local(name string) bool {
	name = strings.ToLower(strings.TrimSuffix(name, "."))
	for _, end := range localNames {
		if name == end || strings.HasSuffix(name, "."+end) {
			return true
		}
	}
	return !strings.Contains(name, ".") && name != "" // one word: a name of this network only
}

func (a *Authority) read(folder string) error {
	keyFile := filepath.Join(folder, "authority.key")
	about, err := os.Stat(keyFile)
	if err != nil {
		return err
	}
	if runtime.GOOS != "windows" && about.Mode().Perm()&0o077 != 0 {
		return &Refusal{fact.Say("trust.key_readable_by_others", fact.Name("key_file", keyFile)),
			fact.Say("trust.do_new_authority", fact.Name("folder", folder))}
	}
	keyText, err := readPEM(keyFile, "PRIVATE KEY")
	if err != nil {
		return err
	}
	certText, err := readPEM(filepath.Join(folder, "authority.crt"), "CERTIFICATE")
	if err != nil {
		return err
	}
	key, err := x509.ParsePKCS8PrivateKey(keyText)
	if err != nil {
		return damaged(keyFile, folder)
	}
	cert, err := x509.ParseCertificate(certText)
	if err != nil {
		return damaged(folder, folder)
	}
	ec, ok := key.(*ecdsa.PrivateKey)
	if public, is := cert.PublicKey.(*ecdsa.PublicKey); !ok || !is || !ec.PublicKey.Equal(public) {
		return damaged(folder, folder)
	}
	a.key, a.cert = ec, cert
	return nil
}

func damaged(what, folder string) error {
	return &Refusal{fact.Say("trust.authority_unread", fact.Name("what", what)), fact.Say("trust.do_new_folder", fact.Name("folder", folder))}
}

func readPEM(name, kind string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostFile))
	if err != nil {
		return nil, err
	}
	block, _ := pem.Decode(text)
	if block == nil || block.Type != kind {
		return nil, damaged(name, filepath.Dir(name))
	}
	return block.Bytes, nil
}

// make makes a new authority and keeps it: the key first, under a name of its own
// until it is whole.
func (a *Authority) make(folder string) error {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return err
	}
	serial, err := serialNumber()
	if err != nil {
		return err
	}
	host, err := os.Hostname()
	if err != nil {
		host = "this computer"
	}
	t := &x509.Certificate{SerialNumber: serial, Subject: pkix.Name{CommonName: "hopperful on " + host, Organization: []string{"hopperful workshop authority"}},
		NotBefore: a.now().Add(-skew), NotAfter: a.now().AddDate(authorityYears, 0, 0), IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true,
		KeyUsage:                    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		PermittedDNSDomainsCritical: true, PermittedDNSDomains: append(append([]string{}, localNames...), words(a.hosts)...), PermittedIPRanges: localNets}
	der, err := x509.CreateCertificate(rand.Reader, t, t, &key.PublicKey, key)
	if err != nil {
		return err
	}
	if a.cert, err = x509.ParseCertificate(der); err != nil {
		return err
	}
	a.key = key
	secret, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	if err := keepWhole(filepath.Join(folder, "authority.crt"), 0o644, "CERTIFICATE", der); err != nil {
		return err
	}
	return keepWhole(filepath.Join(folder, "authority.key"), 0o600, "PRIVATE KEY", secret)
}

// words are the hosts of one word, which no end of localNames covers.
func words(hosts []string) []string {
	var all []string
	for _, h := range hosts {
		if !strings.Contains(h, ".") {
			all = append(all, h)
		}
	}
	return all
}

func keepWhole(name string, mode fs.FileMode, kind string, content []byte) error {
	part := name + ".part"
	if err := os.Remove(part); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	f, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return err
	}
	err = errors.Join(pem.Encode(f, &pem.Block{Type: kind, Bytes: content}), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(part, name)
	}
	return err
}

func serialNumber() (*big.Int, error) {
	n, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 120))
	if err != nil {
		return nil, fmt.Errorf("drawing a serial number: %w", err)
	}
	return n.Add(n, big.NewInt(1)), nil
}

// Certificate is the authority's own, as a phone takes it in.
func (a *Authority) Certificate() []byte { return a.cert.Raw }

// Fingerprint is the SHA-256 of that, as phones show it.
func (a *Authority) Fingerprint() string {
	sum := sha256.Sum256(a.cert.Raw)
	var parts []string
	for i := 0; i < len(sum); i += 2 {
		parts = append(parts, strings.ToUpper(hex.EncodeToString(sum[i:i+2])))
	}
	return strings.Join(parts, " ")
}
