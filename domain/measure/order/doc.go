// Package order holds order statistics and what resists a stray reading: medians
// with intervals that assume no distribution, scatter, quantiles, outlier rules.
//
// Figures that come straight off an instrument's scale stay whole numbers
// ([Fortieth], [Span]), so that a median of readings is exact and a limit flag is
// carried by its place in the order. Everything else is float64.
//
// No function changes its arguments. NaN and the infinities are refused with a
// *measure.ArgumentError that names the argument and the index.
package order
