package account

import (
	"hopperful/fact"

	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/crypto/argon2"
)

// argon is what one log-in costs: 64 MiB and three passes, the second choice RFC 9106
// recommends (section 4) with its four lanes.
var argon = cost{time: 3, memory: 64 * 1024, lanes: 4}

// cost is of Argon2; memory in KiB.
type cost struct {
	time, memory uint32
	lanes        uint8
}

// String is how the reference implementation writes it.
func (c cost) String() string { return fmt.Sprintf("m=%d,t=%d,p=%d", c.memory, c.time, c.lanes) }

// CheapInTests makes log-ins cost the least that Argon2 takes (RFC 9106, section 3.1: one pass,
// 8 KiB a lane). Only test programs may call it, before anything else; a test in internal/rules holds that.
func CheapInTests() { argon.time, argon.memory = 1, 8*uint32(argon.lanes) }

const (
	saltLength = 16
	hashLength = 32
)

// Bounds of a passphrase. OWASP ASVS 4.0.3, 2.1.1, wants 12 characters where people
// choose their own; that holds for accounts.
const (
	leastPassphrase = 12
	mostPassphrase  = 4096 // bytes
)

// Derive hashes a passphrase without the spaces around it, which nobody sees.
func Derive(passphrase string, salt []byte) []byte {
	return argon2.IDKey([]byte(strings.TrimSpace(passphrase)), salt, argon.time, argon.memory, argon.lanes, hashLength)
}

// Hash is how a passphrase is kept: Argon2id with its costs, a salt of chance and the
// hash, as the reference implementation writes them.
func Hash(passphrase string) (string, error) {
	if n := utf8.RuneCountInString(strings.TrimSpace(passphrase)); n < leastPassphrase || len(passphrase) > mostPassphrase {
		return "", &Refused{fact.Say("account.passphrase_short", fact.Count("n", n), fact.Count("least_passphrase", leastPassphrase)), fact.Say("account.do_few_words")}
	}
	salt := make([]byte, saltLength)
	rand.Read(salt) // never fails; see crypto/rand
	text := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("$argon2id$v=%d$%s$%s$%s", argon2.Version, argon, text(salt), text(Derive(passphrase, salt))), nil
}

// Fits says whether a passphrase is the one that was hashed. One that is hashed at
// other costs than today's fits none.
func Fits(hash, passphrase string) bool {
	parts := strings.Split(hash, "$")
	if len(parts) != 6 || parts[1] != "argon2id" || parts[2] != fmt.Sprintf("v=%d", argon2.Version) || parts[3] != argon.String() || len(passphrase) > mostPassphrase {
		return false
	}
	salt, err := base64.RawStdEncoding.DecodeString(parts[4])
	want, err2 := base64.RawStdEncoding.DecodeString(parts[5])
	return err == nil && err2 == nil && len(want) == hashLength && subtle.ConstantTimeCompare(Derive(passphrase, salt), want) == 1
}

// Nobody is a hash that no passphrase fits, so that a name nobody has takes as long as one
// somebody has.
func Nobody() string {
	text := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("$argon2id$v=%d$%s$%s$%s", argon2.Version, argon, text(make([]byte, saltLength)), text(make([]byte, hashLength)))
}

// NewToken is a token of 260 bits, and what is kept of it.
func NewToken() (token string, kept []byte) {
	token = rand.Text() + rand.Text()
	return token, TokenHash(token)
}

// TokenHash is what is kept of a token.
func TokenHash(token string) []byte {
	sum := sha256.Sum256([]byte(token))
	return sum[:]
}
