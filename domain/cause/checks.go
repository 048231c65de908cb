package cause

import (
	"slices"
	"sync"
)

// Check is something that can be done to tell causes apart.
type Check struct {
	Code    string
	Text    string // what to do
	Minutes int    // a hand's time, common practice, no source
	Harm    Harm
	Consent string     // the permission it needs, as permissions are named; empty: none
	Needs   []SignCode // one of these must hold for it to make sense; none: it always does
}

// Harm is what a check does to the boat, from nothing up.
type Harm int

// The degrees of harm.
const (
	NoHarm  Harm = iota // looks, listens, reads
	Surface             // a coating is scraped or a blister opened, to be made good
	Fitting             // something is taken apart
	Hole                // a hole is drilled or a plug taken
)

// String says the harm in words.
func (h Harm) String() string {
	return [...]string{"none", "a patch of coating to make good", "a fitting to bed again", "a hole to make good"}[h]
}

// CheckOf finds a check.
func CheckOf(code string) (Check, bool) {
	k := slices.IndexFunc(checks, func(c Check) bool { return c.Code == code })
	if k < 0 {
		return Check{}, false
	}
	return checks[k], true
}

// Checks lists the checks, least harm first.
func Checks() []Check { return slices.Clone(checks) }

// Outcomes lists the signs that the check can yield.
func (c Check) Outcomes() []Sign { return slices.Clone(outcomes()[c.Code]) }

// outcomes are the signs by the check that yields them.
var outcomes = sync.OnceValue(func() map[string][]Sign {
	by := map[string][]Sign{}
	for _, s := range signs {
		if s.Check != "" {
			by[s.Check] = append(by[s.Check], s)
		}
	}
	return by
})

// Consents as permissions name them.
const (
	toScrape  = "scrape"
	toOpen    = "open blisters"
	toDrill   = "drill or core"
	toLift    = "lift soles"
	toRemove  = "withdraw a fitting"
	noConsent = ""
)

var checks = []Check{
	{"block", "Read the block before and after", 5, NoHarm, noConsent, nil},
	{"dew-point", "Measure air, humidity and skin, and hold the skin against the dew point", 5, NoHarm, noConsent, nil},
	{"weather", "Note rain of the last three days and hours since the wash", 2, NoHarm, noConsent, nil},
	{"repeat", "Repeat ten places blind, better by another hand", 20, NoHarm, noConsent, nil},
	{"map", "Ask for drawings and map what lies behind", 30, NoHarm, noConsent, nil},
	{"tap", "Tap it with a light hammer, stiffeners mapped first", 20, NoHarm, noConsent, nil},
	{"raking-light", "Look over it in raking light, wet and after drying", 30, NoHarm, noConsent, nil},
	{"other-depth", "Read the same places with an instrument of the other depth", 30, NoHarm, noConsent, nil},
	{"ultrasonic", "Ultrasonic echo at the patch and at its mirror", 40, NoHarm, noConsent, nil},
	{"wipe-repeat", "Wipe it, keep it covered 24 hours, block check, read again", 45, NoHarm, noConsent, nil},
	{"thermal", "Thermal look at dusk, against the mirror", 60, NoHarm, noConsent, nil},
	{"inside", "Look at the same spot from inside: soles and lockers up", 40, NoHarm, toLift, nil},
	{"empty", "Empty and wipe out what lies behind, read again a day later", 60, NoHarm, toLift, []SignCode{OverBehind, OverLiner, "inside-behind"}},
	{"rinse-bilge", "Rinse the bilge with fresh water, wipe it, read again", 60, NoHarm, noConsent, nil},
	{"wash", "Wash with fresh water, test what runs off, read again after seven days", 60, NoHarm, noConsent, nil},
	{"series", "A further visit: the same places, instrument and air, at least a week on", 90, NoHarm, noConsent, nil},
	{"scrape", "Scrape three patches to the gelcoat and read again", 30, Surface, toScrape, nil},
	{"open-blisters", "Open two blisters: depth, pH, smell. Liquid under pressure: eye shield, gloves, face away", 20, Surface, toOpen, []SignCode{BlistersSeen, BlistersLow}},
	{"withdraw", "Withdraw the fitting and look at its bedding and the hole's edge", 90, Fitting, toRemove, []SignCode{AtFitting, RoundFitting, WeepAtFitting, "inside-fitting-wet"}},
	{"plug", "A plug, or a pilot hole from inside; never where the skin is highly stressed", 45, Hole, toDrill, nil},
}
