package demo

import "time"

func mm(n int32) *int32 { return &n }

func year(n int16) *int16 { return &n }

func yearBegins(y int) *time.Time { return new(time.Date(y, 1, 1, 0, 0, 0, 0, time.UTC)) }

func yearEnds(y int) *time.Time { return new(time.Date(y, 12, 31, 0, 0, 0, 0, time.UTC)) }

// box is an outline by its after and fore edge and its upper and lower one, mm.
func box(aft, fore, upper, lower int32) [][2]int32 {
	return [][2]int32{{aft, upper}, {fore, upper}, {fore, lower}, {aft, lower}}
}

// some is a time that may be missing.
func some(t time.Time) *time.Time {
	if t.IsZero() {
		return nil
	}
	return &t
}

// some of a number, nil where it says nothing.
func counted(n int16) *int16 {
	if n == 0 {
		return nil
	}
	return &n
}
