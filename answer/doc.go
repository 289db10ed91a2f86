// Package answer holds what every answer of plan is made of: limits, steps,
// spoilers, cautions, charts, and the words they share. It knows nothing of
// mills, lots or prints.
package answer
