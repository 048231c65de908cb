// Package figure draws a hull as a chart: the skin unrolled, port above and starboard
// mirrored below, both waterlines straight, the keels facing each other.
//
// A [Spec] is a handful of metres kept with a vessel's hull element. [Spec.Shape] turns
// it into girth and sheer along the length, [Draw] turns shape and [Options] into a
// [Plate]: a flat list of paths, circles, rectangles and words in pixels, each with a
// class name. The client has a twin of this package in web/src/figure; both are held to
// the same plates, coordinate by coordinate, through testdata/figure.
//
// Coordinates on the skin are those of a place: along, metres forward of the aft
// perpendicular (the after end of the waterline), and down, metres along the skin below
// the waterline datum, negative above it.
//
// A figure is a drawing to put places on, not a lines plan: nothing is computed from it
// but where a mark goes. Where a layout of the drawing rests on nothing more than how
// boats usually look, the comment says "common practice, no source".
package figure
