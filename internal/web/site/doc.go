// Package site is what every page is served from: the shop's file and its clock, the words of who
// asks, rendering, faults, sessions, writing what a sheet was filled in with, and waiting for
// what takes long. It has no page of its own.
package site
