// Package web serves hopperful's pages: rendered on the server, complete
// without JavaScript except for what is live, nothing loaded from outside.
//
// A handler takes a snapshot of the shop (desk), calls one function of package plan
// or shop, and renders one page; nothing is computed here. A write is a filled
// sheet (sheets, forms): its fields are read into a record's body, the shop
// checks it, the store appends it, and the page that follows offers to take it
// back for ten seconds. Every number on a page goes through the figure part
// (figures, parts/figure.html), so that any of them opens to its reasons. The rooms
// below this folder are listed in docs/structure.md.
//
// Files are named after the nouns of the workshop: lot.go, need.go, mill.go …,
// each with its page under pages/.
package web
