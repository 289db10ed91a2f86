// Package address knows where each page stands: the path of a lot, a plan, a mill, and the
// page on which a step or remedy is done.
package address
