// Package forms is what a page asks: sheets of questions made from the table of fields,
// how they are drawn with what was typed, and how that is read back into a record's body
// or into a question.
package forms
