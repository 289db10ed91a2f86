// Package charts lays out what a chart shows: scenes, axes, ticks, the table beside the
// picture and its numbers as a file. What is drawn is JSON that assets/chart.js reads.
package charts
