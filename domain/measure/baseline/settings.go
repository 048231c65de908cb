package baseline

import "boottop.example/practice/domain/measure"

// Settings are what a practice may change. Use [Defaults] and alter a field.
type Settings struct {
	Least     int     // dry places needed; 6: common practice, no source
	Clear     int32   // mm above the top of the boot-top a dry place must lie; 250
	Share     float64 // largest scatter as a share of the underbody's contrast; ¼
	Step      float64 // smallest step of the scale, in units; half of it is the least scatter. 0.1
	Level     float64 // coverage asked of the median's interval; 0.95
	Surface   string  // the surface wanted, as last time; "" takes the one most places have
	BothSides bool    // whether port and starboard must both be there; true
}

// Defaults are the practice's starting values. All are common practice, no source.
func Defaults() Settings {
	return Settings{Least: 6, Clear: 250, Share: 0.25, Step: 0.1, Level: 0.95, BothSides: true}
}

func (s Settings) check() error {
	if s.Least < 1 {
		return &measure.ArgumentError{Argument: "s.Least", Why: "must be at least 1"}
	}
	if err := measure.Positive("s.Share", s.Share); err != nil {
		return err
	}
	if err := measure.Positive("s.Step", s.Step); err != nil {
		return err
	}
	return measure.Level(s.Level)
}
