package simulate

import (
	"math"
	"math/rand/v2"

	"boottop.example/practice/domain/measure/unit"
)

// Texture is how one spot of the same hull differs from the next for good: layup,
// thickness, gelcoat. It is a smooth field, so a place found again 50 mm off reads
// a little different, and one 300 mm off reads another place.
type Texture struct {
	SD       float64          // standard deviation over the skin, scale units
	Reach    unit.Millimetres // distance over which it is forgotten
	Gradient float64          // scale units a metre down: hulls grade towards the keel
}

// field is a sum of plane waves of random direction and phase (Shinozuka 1972, from
// memory): Gaussian in the limit, cheap anywhere, and each side has its own.
type field struct {
	waves [3][24]wave
	Texture
}

type wave struct{ kx, ky, phase float64 }

func (t Texture) field(seed uint64) *field {
	f := &field{Texture: t}
	r := rand.New(rand.NewPCG(seed, 0x7e47))
	for side := range f.waves {
		for i := range f.waves[side] {
			reach := math.Max(float64(t.Reach), 1)
			f.waves[side][i] = wave{r.NormFloat64() / reach, r.NormFloat64() / reach, 2 * math.Pi * r.Float64()}
		}
	}
	return f
}

func (f *field) at(side Side, along, down float64) float64 {
	var s float64
	waves := f.waves[(side+2)%3]
	for _, w := range waves {
		s += math.Cos(w.kx*along + w.ky*down + w.phase)
	}
	return f.SD*s*math.Sqrt(2/float64(len(waves))) + f.Gradient*math.Max(0, down)/1000
}
