package demo

import (
	"fmt"
	"slices"
)

// fleets are the boats of each practice.
var fleets = map[string][]func(calendar) boat{
	"ebbstone": {
		tamsel, vesper, corncrake, wychElm, halse, alderCarr, emberGoose, sallow, quernstone, merrybegot, thirdReef, lanternJack, bryonyAnn, pennywort,
	},
	"marram": {hesperVane, smallMercy},
}

// book tells the whole scenario.
func (l *loader) story() (*book, error) {
	b := &book{}
	l.founding(b)
	l.autumn(b)
	l.billing(b)
	for _, h := range houses {
		fleet := fleets[h.key]
		if h.key == "ebbstone" {
			fleet = append(slices.Clip(fleet), season()...)
		}
		for _, of := range fleet {
			boat := of(l.calendar)
			if err := l.launch(b, boat, h.key); err != nil {
				return nil, fmt.Errorf("%s: %w", boat.vessel.Name, err)
			}
		}
	}
	return b, nil
}
