// Package reckon answers one process by itself ([Answer]): a topic with its
// inputs, its figures and its chart, for whoever wants to see what a model does.
package reckon
