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

// Cost of one log-in: 64 MiB and three passes, the second choice RFC 9106
// recommends (section 4) with its four lanes.
const (
	argonTime   = 3
	argonMemory = 64 * 1024 // KiB
	argonLanes  = 4
	saltLength  = 16
	hashLength  = 32
)

// Bounds of a passphrase. OWASP ASVS 4.0.3, 2.1.1, wants 12 characters where people
// choose their own; that holds for accounts.
const (
	leastPassphrase = 12
	mostPassphrase  = 4096 // bytes
)

// Derive hashes a passphrase without the spaces around it, which nobody sees.
func Derive(passphrase string, salt []byte) []byte {
	return argon2.IDKey([]byte(strings.TrimSpace(passphrase)), salt, argonTime, argonMemory, argonLanes, hashLength)
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
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, argonMemory, argonTime, argonLanes, text(salt), text(Derive(passphrase, salt))), nil
}

// Fits says whether a passphrase is the one that was hashed. One that is hashed at
// other costs than today's fits none.
func Fits(hash, passphrase string) bool {
	parts := strings.Split(hash, "$")
	today := fmt.Sprintf("m=%d,t=%d,p=%d", argonMemory, argonTime, argonLanes)
	if len(parts) != 6 || parts[1] != "argon2id" || parts[2] != fmt.Sprintf("v=%d", argon2.Version) || parts[3] != today || len(passphrase) > mostPassphrase {
		return false
	}
	salt, err := base64.RawStdEncoding.DecodeString(parts[4])
	want, err2 := base64.RawStdEncoding.DecodeString(parts[5])
	return err == nil && err2 == nil && len(want) == hashLength && subtle.ConstantTimeCompare(Derive(passphrase, salt), want) == 1
}

// Nobody is a hash that no passphrase fits, so that a name nobody has takes as long as one
// somebody has.
var Nobody = fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, argonMemory, argonTime, argonLanes,
	base64.RawStdEncoding.EncodeToString(make([]byte, saltLength)), base64.RawStdEncoding.EncodeToString(make([]byte, hashLength)))

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
