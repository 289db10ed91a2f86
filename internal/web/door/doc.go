// Package door keeps strangers out of the pages: the passphrase and how often it may be
// tried, log-ins and their cookies, names the server answers to, the headers every
// answer carries, and how much may be sent at once. It knows nothing of a shop.
package door
