package simulate

import (
	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/diffusion"
	"boottop.example/practice/domain/measure/unit"
)

// resurface takes the outer skin off and lays a coating on, water where it was.
func resurface(layers []diffusion.Layer, old *diffusion.Wall, level diffusion.Profile, s Spell) ([]diffusion.Layer, *diffusion.Wall, diffusion.Profile, error) {
	left := s.Peel
	bare := append([]diffusion.Layer(nil), layers...)
	for len(bare) > 0 && left > 0 {
		if bare[0].Thickness > left {
			bare[0].Thickness -= left
			break
		}
		left -= bare[0].Thickness
		bare = bare[1:]
	}
	if len(bare) == 0 {
		return nil, nil, nil, &measure.ArgumentError{Argument: "Peel", Why: "must leave some of the wall"}
	}
	layers = append(append([]diffusion.Layer(nil), s.Coat...), bare...)
	wall, err := diffusion.NewWall(layers...)
	if err != nil {
		return nil, nil, nil, err
	}
	var coat unit.Millimetres
	for _, l := range s.Coat {
		coat += l.Thickness
	}
	next := make(diffusion.Profile, wall.Cells())
	for i := range next {
		if d := wall.Depth(i); d > coat {
			if next[i], err = old.At(level, d-coat+s.Peel); err != nil {
				return nil, nil, nil, err
			}
		} else {
			next[i] = 0.3 // a coating goes on nearly dry
		}
	}
	return layers, wall, next, nil
}
