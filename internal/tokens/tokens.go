// Package tokens keeps the tokens with which other programs ask the API of a shop: a
// file each, in a folder beside the shop that only its owner can read. A file holds a
// hash, so that nobody who copies it gets in. A token is made by writing a file and
// revoked by taking it away, so that a running server and a command at once need no
// word of each other.
package tokens

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"hopperful/fact"
	"hopperful/shop"
)

// Ending ends the name of the folder beside a shop.
const Ending = ".tokens"

// Scope is what a token lets a program do.
type Scope string

// The scopes; who may write may read.
const (
	Read   Scope = "read"
	Record Scope = "record"
)

// Scopes are all of them.
func Scopes() []Scope { return []Scope{Read, Record} }

// Lets reports whether a token of one scope may do what asks for another.
func (s Scope) Lets(want Scope) bool { return s == want || s == Record && want == Read }

// Token is a token without its secret, which is shown once and kept nowhere.
type Token struct {
	ID    string    `json:"id"`
	Name  string    `json:"name"` // of the program it is for
	Scope Scope     `json:"scope"`
	Made  time.Time `json:"made"`
	Hash  string    `json:"sha256,omitempty"` // of the whole token, in hexadecimal; left out where it is shown
}

// Bounds: how many there may be, how long a name and a file.
const (
	most     = 64
	mostName = 60
	mostFile = 4096
)

// ids are how tokens are named: nothing else is looked for in the folder.
var ids = regexp.MustCompile(`^[a-z2-7]{8}$`)

// Folder is where the tokens of a shop are kept.
type Folder string

// Make makes a token and returns it with its secret.
func (f Folder) Make(name string, scope Scope, now time.Time) (Token, string, error) {
	name = strings.Join(strings.Fields(name), " ")
	if name == "" || utf8.RuneCountInString(name) > mostName || strings.ContainsFunc(name, unicode.IsControl) {
		return Token{}, "", shop.Refuse(shop.Invalid, "name", fact.Say("token.no_name"), fact.Say("token.name_it", fact.Count("n", mostName)))
	}
	if !slices.Contains(Scopes(), scope) {
		return Token{}, "", shop.Refuse(shop.Invalid, "scope", fact.Say("token.no_scope", fact.Name("scope", string(scope))), fact.Say("token.choose_scope"))
	}
	all, err := f.List()
	if err != nil {
		return Token{}, "", err
	}
	if len(all) >= most {
		return Token{}, "", shop.Refuse(shop.Conflict, "", fact.Say("token.too_many", fact.Count("n", len(all))), fact.Say("token.revoke_one"))
	}
	id := strings.ToLower(rand.Text()[:8])
	secret := id + "." + rand.Text() + rand.Text() // 260 bits of chance: nothing slower than one hash is needed
	t := Token{ID: id, Name: name, Scope: scope, Made: now.UTC().Truncate(time.Second), Hash: hashed(secret)}
	text, err := json.Marshal(t)
	if err == nil {
		err = os.MkdirAll(string(f), 0o700)
	}
	if err == nil {
		err = writeNew(f.file(id), text)
	}
	return t.shown(), secret, err
}

// writeNew writes a file that its owner alone can read, and gives it its name when it
// is whole.
func writeNew(name string, text []byte) error {
	if err := os.WriteFile(name+".new", text, 0o600); err != nil {
		return err
	}
	return os.Rename(name+".new", name)
}

func hashed(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// shown is a token without its hash.
func (t Token) shown() Token { t.Hash = ""; return t }

func (f Folder) file(id string) string { return filepath.Join(string(f), id+".json") }

// List are the tokens there are, the one made first first. A file that cannot be read
// as one is no token.
func (f Folder) List() ([]Token, error) {
	entries, err := os.ReadDir(string(f))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var all []Token
	for _, e := range entries {
		if id, ok := strings.CutSuffix(e.Name(), ".json"); ok {
			if t, ok := f.read(id); ok {
				all = append(all, t.shown())
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Token) int { return a.Made.Compare(b.Made) })
	return all, err
}

func (f Folder) read(id string) (Token, bool) {
	if !ids.MatchString(id) {
		return Token{}, false
	}
	file, err := os.Open(f.file(id))
	if err != nil {
		return Token{}, false
	}
	defer file.Close()
	text, err := io.ReadAll(io.LimitReader(file, mostFile))
	var t Token
	if err != nil || json.Unmarshal(text, &t) != nil || t.ID != id || !slices.Contains(Scopes(), t.Scope) {
		return Token{}, false
	}
	return t, true
}

// Find is the token with that secret; false when it is not one, or is revoked.
func (f Folder) Find(secret string) (Token, bool) {
	id, _, ok := strings.Cut(secret, ".")
	if !ok {
		return Token{}, false
	}
	t, ok := f.read(id)
	if !ok || subtle.ConstantTimeCompare([]byte(t.Hash), []byte(hashed(secret))) != 1 {
		return Token{}, false
	}
	return t.shown(), true
}

// Revoke takes a token away, by its id or by the name of the only program that has it:
// from the next request on it lets nobody in.
func (f Folder) Revoke(which string) (Token, error) {
	t, ok := f.read(which)
	if !ok {
		all, err := f.List()
		if err != nil {
			return t, err
		}
		all = slices.DeleteFunc(all, func(t Token) bool { return t.Name != which })
		switch len(all) {
		case 0:
			return t, shop.Refuse(shop.NotFound, "id", fact.Say("token.unknown", fact.Name("id", clip(which))), fact.Say("token.list"))
		case 1:
			t = all[0]
		default:
			return t, shop.Refuse(shop.Conflict, "id", fact.Say("token.several", fact.Name("name", clip(which)), fact.Count("n", len(all))), fact.Say("token.by_id"))
		}
	}
	return t.shown(), os.Remove(f.file(t.ID))
}

// clip keeps what was typed short in a message.
func clip(text string) string {
	r := []rune(text)
	return string(r[:min(len(r), 20)])
}
