package finding

import "encoding/json"

// Consents as permissions name them.
const (
	ToOpen  = "open blisters"
	ToDrill = "drill or core"
)

// Consents lists the permissions without which a finding cannot have been made: a plug or a
// drilled hole, a blister that was opened.
func Consents(code string, measured json.RawMessage) []string {
	form, known := FormOf(code)
	if !known {
		return nil
	}
	v := form.Read(measured)
	opened, _ := v.number("opened")
	switch {
	case code == Core, code == Thickness && v.words("method") == "drilled hole":
		return []string{ToDrill}
	case code == Blisters && (opened > 0 || v.words("pressure") != ""):
		return []string{ToOpen}
	}
	return nil
}
