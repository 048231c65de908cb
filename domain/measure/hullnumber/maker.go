package hullnumber

import (
	"strings"
)

// judgeMaker says whether the maker field can name the builder, and what else it can
// hold.
func (n *Number) judgeMaker() {
	m := &n.Maker
	switch {
	case n.Layout == Unknown:
		m.Why = "No maker field could be read."
	case n.Layout == International && n.Has("older-than-layout"):
		m.Why = "The number was assigned after building; the maker field then holds the code of the body that assessed the boat, and the serial its certificate."
	case n.Layout == International:
		// Directive 2013/53/EU: a craft assessed after construction carries the code of
		// the notified body.
		m.MayNameBuilder = true
		m.Why = "It names the maker, unless the boat was assessed after building: then it holds the code of the body that assessed her, and the serial is its certificate."
	case n.stateAssigned():
		m.Why = "A state's two letters and Z mark a number that the state assigned to a home-built boat or to one without a number (from memory, not confirmed)."
	default:
		// 33 CFR 181.25(a)(1).
		m.MayNameBuilder = true
		m.Why = "It names the maker or the importer; the two are not told apart in the number."
	}
}

// states are the postal codes of the states and territories that number boats.
const states = " AL AK AS AZ AR CA CO CT DC DE FL GA GU HI ID IL IN IA KS KY LA ME MD MA MI MN MP MS MO MT NE NV NH NJ NM NY NC ND OH OK OR PA PR RI SC SD TN TX UT VT VA VI WA WV WI WY "

func (n *Number) stateAssigned() bool {
	code := n.Maker.Code
	return n.Layout != International && code[2] == 'Z' && strings.Contains(states, " "+code[:2]+" ")
}

// checkCountry compares the country with the officially assigned codes of ISO 3166-1.
func (n *Number) checkCountry() {
	switch {
	case strings.Contains(countries, " "+n.Country+" "):
	case n.Country == "UK":
		n.warn("country-not-listed", "UK is not the code of ISO 3166-1 for the United Kingdom, which is GB.")
	default:
		n.warn("country-not-listed", n.Country+" is not a country code officially assigned in ISO 3166-1.")
	}
}

// countries are the officially assigned two-letter codes of ISO 3166-1, from memory.
const countries = " AD AE AF AG AI AL AM AO AQ AR AS AT AU AW AX AZ BA BB BD BE BF BG BH BI BJ BL BM BN BO BQ BR BS BT BV BW BY BZ " +
	"CA CC CD CF CG CH CI CK CL CM CN CO CR CU CV CW CX CY CZ DE DJ DK DM DO DZ EC EE EG EH ER ES ET FI FJ FK FM FO FR " +
	"GA GB GD GE GF GG GH GI GL GM GN GP GQ GR GS GT GU GW GY HK HM HN HR HT HU ID IE IL IM IN IO IQ IR IS IT JE JM JO JP " +
	"KE KG KH KI KM KN KP KR KW KY KZ LA LB LC LI LK LR LS LT LU LV LY MA MC MD ME MF MG MH MK ML MM MN MO MP MQ MR MS MT MU MV MW MX MY MZ " +
	"NA NC NE NF NG NI NL NO NP NR NU NZ OM PA PE PF PG PH PK PL PM PN PR PS PT PW PY QA RE RO RS RU RW " +
	"SA SB SC SD SE SG SH SI SJ SK SL SM SN SO SR SS ST SV SX SY SZ TC TD TF TG TH TJ TK TL TM TN TO TR TT TV TW TZ " +
	"UA UG UM US UY UZ VA VC VE VG VI VN VU WF WS YE YT ZA ZM ZW "
