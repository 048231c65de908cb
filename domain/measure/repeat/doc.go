// Package repeat holds what a practice can know of its own hand: how closely a
// reading comes back when the instrument is lifted off and set down again
// (repeatability s_r), how far two people or instruments differ (reproducibility
// s_R), the smallest difference that means anything, and whether an instrument
// drifts, from its readings of a reference block.
//
// There is no default for s_r or s_R anywhere: no published figure exists for hull
// readings, so each practice measures its own. Thirty re-placements take half an hour.
//
// Repeatability and reproducibility are meant as in ISO 5725.
package repeat

import "boottop.example/practice/domain/measure"

// Enough is how many re-placements s_r needs before anything is judged by it:
// design section 3.3. With 30 the 95 % interval of s runs from 0.80 to 1.34 s.
const Enough = 30

// Deviation is a standard deviation that was measured, with its degrees of freedom.
// The zero Deviation says that nothing was measured.
type Deviation struct {
	S        float64          // in the unit of the readings
	DF       int              // degrees of freedom: re-placements for s_r
	Estimate measure.Estimate // S with its interval
}

// Measured tells whether there is anything behind it.
func (d Deviation) Measured() bool { return d.DF > 0 }

func lean() measure.Note {
	return measure.Note{
		Code: "leans-on-normal",
		Text: "The interval of a standard deviation holds for normally distributed readings; stray ones make it too narrow.",
	}
}

const independent = "readings independent, normally distributed, with one standard deviation throughout"
