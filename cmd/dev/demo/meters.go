package demo

import "boottop.example/practice/domain/measure/simulate"

// meter is an instrument of a practice. It and its maker are invented.
type meter struct {
	key, practice       string
	name, model, serial string
	kind, sensing       string
	reset               bool
	battery             string
	scale, mode         string
	low, high, step     int32 // tenths
	timber              bool
	bought              int // years ago
	zero, gain          float64
	shallow             bool
}

// meters by key. Deep No. 1 is the sister of No. 2: the same model, a little higher.
var meters = map[string]meter{
	"deep 1": {
		key: "deep 1", practice: "ebbstone", name: "Skerrow deep No. 1", model: "Skerrow deep", serial: "SD-0107", kind: "capacitance", sensing: "deep",
		reset: true, battery: "9 V, changed each spring", scale: "0 to 100", low: 0, high: 1000, step: 1, bought: 12, zero: 0.7, gain: 1.03,
	},
	"deep 2": {
		key: "deep 2", practice: "ebbstone", name: "Skerrow deep No. 2", model: "Skerrow deep", serial: "SD-0241", kind: "capacitance", sensing: "deep",
		reset: true, battery: "9 V, changed each spring", scale: "0 to 100", low: 0, high: 1000, step: 1, bought: 6,
	},
	"shallow 1": {
		key: "shallow 1", practice: "ebbstone", name: "Skerrow shallow No. 1", model: "Skerrow shallow", serial: "SS-0033", kind: "capacitance", sensing: "shallow",
		battery: "two AA", scale: "0 to 100", low: 0, high: 1000, step: 1, bought: 11, shallow: true,
	},
	"pins": {
		key: "pins", practice: "ebbstone", name: "Skerrow pins", model: "Skerrow pins", serial: "SP-0012", kind: "pins", sensing: "pins",
		battery: "two AA", scale: "timber, 6 to 60", mode: "softwood, 20 °C", low: 60, high: 600, step: 1, timber: true, bought: 9,
	},
	"marram deep": {
		key: "marram deep", practice: "marram", name: "Marram deep", model: "Skerrow deep", serial: "SD-0388", kind: "capacitance", sensing: "deep",
		reset: true, battery: "9 V", scale: "0 to 100", low: 0, high: 1000, step: 1, bought: 3, gain: 0.98,
	},
}

func (m meter) simulated() simulate.Instrument {
	out := simulate.DeepSensing(m.name)
	if m.shallow {
		out = simulate.ShallowSensing(m.name)
	}
	out.Full *= 0.52 // Skerrow instruments answer less to water than the package's own
	out.Low, out.High, out.Step = float64(m.low)/10, float64(m.high)/10, int(m.step)
	return out
}
