package pgtest

import (
	"crypto/x509"
	"encoding/pem"
	"fmt"
	"net"
	"net/url"
	"os"
	"path/filepath"
	"time"

	"hopperful/internal/trust"
)

// encrypt gives the server a certificate for this computer, of an authority of its own,
// so that the way to it can be encrypted where an address asks for that.
func (s *Server) encrypt() (settings string, err error) {
	a, err := trust.Open(filepath.Dir(s.Authority()), nil, time.Now)
	if err != nil {
		return "", err
	}
	c, err := a.TLS(func() []net.IP { return nil }).GetCertificate(nil)
	if err != nil {
		return "", err
	}
	key, err := x509.MarshalPKCS8PrivateKey(c.PrivateKey)
	if err != nil {
		return "", err
	}
	for name, block := range map[string]*pem.Block{
		"server.crt": {Type: "CERTIFICATE", Bytes: c.Certificate[0]},
		"server.key": {Type: "PRIVATE KEY", Bytes: key},
	} {
		if err := s.write(filepath.Join(s.folder, name), pem.EncodeToMemory(block)); err != nil {
			return "", err
		}
	}
	return fmt.Sprintf("ssl = on\nssl_cert_file = '%s/server.crt'\nssl_key_file = '%s/server.key'\n", s.folder, s.folder), nil
}

// Guarded is a user whom the server lets in only where the way is encrypted.
const Guarded = "guarded"

// guard has the server turn [Guarded] away in the clear.
func (s *Server) guard() error {
	path := filepath.Join(s.data(), "pg_hba.conf")
	rules, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	return s.write(path, append([]byte("hostnossl all "+Guarded+" all reject\n"), rules...))
}

// write keeps a file that only the server's owner may read, as PostgreSQL asks of a key.
func (s *Server) write(path string, text []byte) error {
	if err := os.WriteFile(path, text, 0o600); err != nil || os.Geteuid() != 0 {
		return err
	}
	uid, gid := ids(s.owner)
	return os.Chown(path, uid, gid)
}

// Authority is the file of who vouches for the server.
func (s *Server) Authority() string { return filepath.Join(s.folder, "trust", "authority.crt") }

// Secure is [Server.At] with the settings of an encrypted way, such as sslmode.
func (s *Server) Secure(host, shop string, settings url.Values) string {
	u := url.URL{Scheme: "postgres", User: url.UserPassword("bench", Password), Host: host, Path: "/workshops", RawQuery: settings.Encode(), Fragment: shop}
	return u.String()
}
