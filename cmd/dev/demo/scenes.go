package demo

import "math"

// The colours of a yard in autumn.
var (
	antifouling = rgb{0.28, 0.36, 0.45}
	gelcoat     = rgb{0.93, 0.90, 0.82}
	laminate    = rgb{0.74, 0.70, 0.52}
	chalk       = rgb{0.95, 0.94, 0.88}
	dark        = rgb{0.11, 0.13, 0.15}
	bronze      = rgb{0.62, 0.45, 0.24}
	rust        = rgb{0.45, 0.24, 0.12}
	sky         = rgb{0.80, 0.85, 0.87}
	gravel      = rgb{0.55, 0.52, 0.47}
	timber      = rgb{0.52, 0.36, 0.22}
)

// scenes by what they show, from the ground up.
var scenes = map[string]func(noise) []paint{
	"window": func(n noise) []paint {
		return append(skin(n, antifouling), append(bared(n, gelcoat), rule()...)...)
	},
	"blisters": func(n noise) []paint {
		list := append(skin(n, antifouling), bared(n, gelcoat)...)
		for k := range 7 {
			fx, fy := n.at(float64(7*k), 3.5), n.at(2.5, float64(11*k))
			list = append(list, dome(0.66+0.2*fx, 0.47+0.2*fy, 0.02+0.012*math.Abs(fx)))
		}
		return append(list, rule()...)
	},
	"meter": func(n noise) []paint {
		return append(skin(n, antifouling), append(cross(0.42, 0.62), held()...)...)
	},
	"fitting": func(n noise) []paint { return append(skin(n, antifouling), flange(n)...) },
	"weep": func(n noise) []paint {
		run := n.ragged(stroke(0.68, 0.5, 0.66, 0.9, 0.02), 0.03)
		return append(append(skin(n, antifouling), over(run, rust, 0.06)), flange(n)...)
	},
	"hull":     afar,
	"laminate": func(n noise) []paint { return append(weave(n), rule()...) },
	"rudder":   blade,
	"core": func(n noise) []paint {
		return append(append(skin(n, gelcoat), over(circle(0.66, 0.48, 0.25), dark, 0.02), over(n.ragged(circle(0.66, 0.48, 0.23), 0.02), timber.shade(0.7), 0.02),
			over(circle(0.66, 0.48, 0.2), timber, 0.03)), rule()...)
	},
	"inside": func(n noise) []paint {
		return append(skin(n, rgb{0.66, 0.64, 0.58}), over(slab(0.1, 0.55, 1.25, 0.9, 0.02), dark.shade(1.6), 0.03), over(slab(0, 0.86, 1.34, 1, 0), timber, 0.02),
			over(stroke(0.2, 0.2, 1.1, 0.62, 0.035), rgb{0.2, 0.2, 0.2}, 0.01), over(ring(0.62, 0.4, 0.05, 0.012), bronze, 0.008))
	},
}

// skin is a coated surface in raking light.
func skin(n noise, c rgb) []paint {
	return []paint{func(x, y float64, _ rgb) rgb {
		return c.shade(0.82 + 0.34*(1-y) + 0.10*n.rough(x, 1.6*y) + 0.05*n.at(150*x, 150*y))
	}}
}

// bared is a window scraped down to something.
func bared(n noise, to rgb) []paint {
	edge := n.ragged(slab(0.36, 0.18, 0.96, 0.78, 0.02), 0.018)
	return []paint{over(edge, antifouling.shade(0.6), 0.05), func(x, y float64, under rgb) rgb {
		return mix(under, to.shade(0.94+0.05*n.at(200*x, 200*y)), 0.5-(edge(x, y)+0.014)/0.006)
	}}
}

// dome is a blister in the same light: bright above, dark below.
func dome(cx, cy, r float64) paint {
	return func(x, y float64, under rgb) rgb {
		d := math.Hypot(x-cx, y-cy) / r
		if d > 1.25 {
			return under
		}
		lit := 1 - 0.5*(y-cy)/r*math.Exp(-d*d)
		return mix(under, under.shade(lit), 1.25-d)
	}
}

// rule is a scale of black and white, ten parts.
func rule() []paint {
	list := []paint{over(slab(0.34, 0.86, 0.98, 0.92, 0), chalk, 0.004)}
	for k := 0; k < 10; k += 2 {
		list = append(list, over(slab(0.36+0.06*float64(k), 0.87, 0.42+0.06*float64(k), 0.91, 0), dark, 0.004))
	}
	return list
}

// cross is a station mark in chalk.
func cross(x, y float64) []paint {
	return []paint{over(stroke(x-0.09, y, x+0.09, y, 0.006), chalk, 0.012), over(stroke(x, y-0.09, x, y+0.09, 0.006), chalk, 0.012)}
}

// held is an instrument against the hull: a round body and a slot with a sliding mark.
func held() []paint {
	list := []paint{
		over(circle(0.78, 0.55, 0.29), dark.shade(0.5), 0.06), over(circle(0.76, 0.52, 0.28), rgb{0.23, 0.31, 0.28}, 0.006),
		over(ring(0.76, 0.52, 0.25, 0.006), rgb{0.33, 0.42, 0.38}, 0.006), over(slab(0.58, 0.45, 0.94, 0.55, 0.05), rgb{0.86, 0.87, 0.80}, 0.006),
	}
	for k := range 9 {
		list = append(list, over(stroke(0.62+0.035*float64(k), 0.47, 0.62+0.035*float64(k), 0.485, 0.0015), dark, 0.003))
	}
	return append(list, over(stroke(0.73, 0.46, 0.73, 0.54, 0.006), rgb{0.42, 0.10, 0.24}, 0.004), over(slab(0.71, 0.66, 0.81, 0.70, 0.02), chalk.shade(0.8), 0.006))
}

// flange is a fitting through the skin with a stain round it.
func flange(n noise) []paint {
	return []paint{
		over(n.ragged(circle(0.68, 0.47, 0.25), 0.035), rust.shade(1.2), 0.05), over(circle(0.68, 0.47, 0.2), bronze, 0.008),
		over(ring(0.68, 0.47, 0.2, 0.006), bronze.shade(0.6), 0.006), over(circle(0.68, 0.47, 0.105), dark, 0.01),
		over(circle(0.55, 0.47, 0.012), bronze.shade(0.5), 0.006), over(circle(0.81, 0.47, 0.012), bronze.shade(0.5), 0.006),
	}
}

// weave is peeled laminate: threads both ways.
func weave(n noise) []paint {
	return []paint{func(x, y float64, _ rgb) rgb {
		threads := 0.06*math.Sin(260*x+3*n.at(9*x, 9*y)) + 0.06*math.Sin(260*y+3*n.at(7*x+5, 7*y))
		return laminate.shade(0.92 + threads + 0.14*n.rough(x, y) + 0.1*(1-y))
	}}
}

// afar is a boat on props, from her side.
func afar(n noise) []paint {
	sheer := func(x float64) float64 { return 0.36 - 0.10*(x-0.25)*(x-0.25) }
	keel := func(x float64) float64 { return 0.62 + 0.05*math.Sin((x-0.1)*2.6) }
	body := func(x, y float64) float64 {
		ends := max(0.12+0.20*(y-0.33)-x, x-1.22+0.42*(y-0.33))
		return max(ends, max(sheer(x)-y, y-keel(x)))
	}
	return []paint{
		func(x, y float64, _ rgb) rgb { return sky.shade(0.92 + 0.12*y + 0.03*n.rough(x, y)) },
		over(func(_, y float64) float64 { return 0.84 - y }, gravel, 0.02),
		func(x, y float64, under rgb) rgb {
			return mix(under, under.shade(0.9+0.2*n.at(60*x, 60*y)), (y-0.84)*60)
		},
		over(slab(0.52, 0.6, 0.78, 0.86, 0.02), dark.shade(1.8), 0.008),
		over(stroke(0.34, 0.55, 0.30, 0.88, 0.009), timber, 0.004), over(stroke(0.98, 0.55, 1.03, 0.88, 0.009), timber, 0.004),
		over(body, gelcoat, 0.004),
		over(func(x, y float64) float64 { return max(body(x, y), 0.475-0.01*x-y) }, antifouling, 0.004),
		over(func(x, y float64) float64 { return max(body(x, y), math.Abs(y-0.47+0.01*x)-0.008) }, rgb{0.42, 0.10, 0.24}, 0.004),
		over(stroke(0.62, 0.02, 0.62, 0.36, 0.006), rgb{0.75, 0.76, 0.74}, 0.004),
	}
}

// blade is a rudder with a wet foot.
func blade(n noise) []paint {
	return append(skin(n, rgb{0.62, 0.63, 0.60}),
		over(slab(0.47, 0.16, 0.86, 0.9, 0.06), antifouling.shade(0.7), 0.05), over(slab(0.45, 0.13, 0.84, 0.87, 0.06), antifouling, 0.006),
		over(slab(0.60, 0, 0.66, 0.16, 0.01), rgb{0.7, 0.71, 0.7}, 0.006),
		over(n.ragged(stroke(0.50, 0.70, 0.49, 0.84, 0.03), 0.05), rust, 0.05))
}
