package figure

import (
	"fmt"
	"math"
)

// Palette gives the tokens of a style their colours. The names are those of the client's
// tokens.css.
type Palette struct {
	Name     string
	Colours  map[string]RGB
	DiscLine float64 // px, around a disc
	Weight   int     // of ordinary text
}

// RGB is a colour of the sRGB space, 0 to 255 each.
type RGB [3]uint8

// Hex writes a colour as CSS has it.
func (c RGB) Hex() string { return fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2]) }

func rgb(hex uint32) RGB { return RGB{uint8(hex >> 16), uint8(hex >> 8), uint8(hex)} }

// The palettes. Paper is the screen's light theme; Print the same on a white sheet; Grey
// is Print in greys of the same lightness; Ink has one ink and what tints of it say.
var (
	Paper = Palette{"paper", map[string]RGB{
		"ground": rgb(0xf5f2e8), "sheet": rgb(0xfbf9f2), "ink": rgb(0x14202b), "ink-2": rgb(0x35424d), "line": rgb(0x6e7c85),
		"land": rgb(0xf3e6c4), "water": rgb(0xdce9ec), "deep": rgb(0xcbdfe5), "accent": rgb(0x850e4c),
		"v0": rgb(0xf9e03a), "v1": rgb(0xd7c45c), "v2": rgb(0x938e78), "v3": rgb(0x434e6c), "v4": rgb(0x00224e),
		"on-value": rgb(0xfbf9f2), "halo": rgb(0xfbf9f2), "halo-fill": rgb(0xfbf9f2),
	}, 0.8, 400}
	Print = Paper.with("print", map[string]RGB{"ground": white, "sheet": white, "on-value": white, "halo": white, "halo-fill": white})
	Grey  = Print.grey()
	Ink   = Print.with("ink", map[string]RGB{
		"ink": black, "ink-2": black, "line": rgb(0x6b6b6b), "land": white, "water": white, "deep": rgb(0xeeeeee), "accent": black,
		"v0": white, "v1": rgb(0xcccccc), "v2": rgb(0x8c8c8c), "v3": rgb(0x4a4a4a), "v4": black,
	})
)

var white, black = rgb(0xffffff), rgb(0x000000)

func (p Palette) with(name string, other map[string]RGB) Palette {
	q := p
	q.Name, q.Colours = name, make(map[string]RGB, len(p.Colours))
	for k, v := range p.Colours {
		q.Colours[k] = v
	}
	for k, v := range other {
		q.Colours[k] = v
	}
	return q
}

func (p Palette) grey() Palette {
	greys := make(map[string]RGB, len(p.Colours))
	for k, c := range p.Colours {
		greys[k] = c.grey()
	}
	return p.with("grey", greys)
}

// grey of the same luminance: the coefficients of sRGB's luminance (IEC 61966-2-1, from
// memory), on linear light.
func (c RGB) grey() RGB {
	linear := func(v uint8) float64 {
		if f := float64(v) / 255; f > 0.04045 {
			return math.Pow((f+0.055)/1.055, 2.4)
		}
		return float64(v) / 255 / 12.92
	}
	y := 0.2126*linear(c[0]) + 0.7152*linear(c[1]) + 0.0722*linear(c[2])
	f := 12.92 * y
	if y > 0.0031308 {
		f = 1.055*math.Pow(y, 1/2.4) - 0.055
	}
	g := uint8(math.Round(255 * min(1, f)))
	return RGB{g, g, g}
}

// mix lays share (0 to 1) of c over d, as color-mix(in srgb, …) does.
func (c RGB) mix(share float64, d RGB) RGB {
	var m RGB
	for i := range m {
		m[i] = uint8(math.Round(share*float64(c[i]) + (1-share)*float64(d[i])))
	}
	return m
}
