// Package colour says what a lot looks like and what a mix of lots will look
// like.
//
// A colour is a [Curve]: the share of light a surface sends back in each of 36
// bands. It is measured ([Resampled]), or guessed from a colour on a screen or
// a photo ([FromScreen], [FromPhoto]) or from L*a*b* ([FromLab]), or follows
// from the parents of a lot.
//
// Two ends bracket a mix. Well mixed in the melt the pigments share the light
// ([Mixed], Kubelka–Munk); dry granules seen from afar, or streaks, average the
// light they send back ([Unmixed]). A small screw mixes badly, so prints lie
// between, and both ends are shown. One percent of black ruins white: in the
// melt the dark lot counts far beyond its share.
//
// A curve is looked at with the eyes of the CIE standard observers under
// daylight D65 ([Tristimulus], [LabOf]); two colours are as far apart as
// [Difference] says (CIEDE2000): below 1 nobody sees it side by side, 2 to 5 is
// plain, above 10 it is another colour. [Name] says a colour in plain words.
//
//	K/S = (1 − R)²/(2R)        R∞ of a thick opaque layer
//	K/S of a mix = Σ c_i K_i / Σ c_i S_i
//
// A colour taken from one photo carries an error of 5 to 10 in the difference
// by its light alone; nothing here knows that, the person who reads it should.
package colour
