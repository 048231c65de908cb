package door

import "encoding/json"

// HashOf is the name of a stored operation.
func HashOf(text string) string { return hashOf(text) }

// Quote writes a JSON string.
func Quote(text string) string {
	b, err := json.Marshal(text)
	if err != nil {
		panic(err)
	}
	return string(b)
}

// BodyMost is the limit of a body.
const BodyMost = bodyMost
