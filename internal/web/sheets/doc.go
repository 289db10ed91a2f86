// Package sheets holds the sheet of every kind of record, a file a kind or a group of
// them: what is asked, in which order, and with which answers it begins.
package sheets
