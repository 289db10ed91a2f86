// Package consumption says what a print eats: it reads needs from files ([ReadNeed]) and
// turns them into plastic, mass, time and flow ([Of]).
package consumption
