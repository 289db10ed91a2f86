// Package trust lets phones of the workshop's network reach the pages over HTTPS,
// without asking anybody outside: the shop has a certificate authority of its own.
//
// [Open] makes it on first use and finds it afterwards; its key can be read by its
// owner alone. It may only vouch for names and addresses of a local network, so that
// a phone that trusts it gives nothing else away. [Authority.TLS] makes certificates
// for what the pages are reached by, in memory, and anew before they end or when the
// addresses change. [Own] uses a certificate of the user's own instead. [Split] takes
// encrypted and plain callers at one port apart.
package trust
